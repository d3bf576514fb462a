"""A restore has the database alone: no server, no worker, no other program."""

import contextlib
import sqlite3
import subprocess
import sys

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from shared import holding
from shared.errors import Refused
from tests.faults.crew import environment
from tests.guards.tree import ROOT

pytestmark = pytest.mark.django_db(transaction=True)
SERVER = "import shared.wsgi, sys; print('open', flush=True); sys.stdin.read()"


@contextlib.contextmanager
def running(code, **env):
    """Another process, once it has said that it is there."""
    pipe = subprocess.PIPE
    with subprocess.Popen(
        [sys.executable, "-c", code], cwd=ROOT, env=environment(**env), stdin=pipe, stdout=pipe, text=True
    ) as child:
        assert child.stdout.readline() == "open\n"
        yield child
        child.stdin.close()


def test_a_server_keeps_a_restore_away_until_it_ends(settings):
    why = r"The shop is open: a server or a worker uses this database"
    with running(SERVER, DATA_DIR=str(settings.DATA_DIR)), pytest.raises(Refused, match=why), holding.alone():
        pass
    with holding.alone():
        pass


def test_a_killed_server_keeps_nothing_away(settings):
    with running(SERVER, DATA_DIR=str(settings.DATA_DIR)) as server:
        server.kill()
        server.wait()
        with holding.alone():
            pass


def test_neither_server_nor_worker_begins_during_a_restore(settings):
    with holding.alone():
        env = environment(DATA_DIR=str(settings.DATA_DIR))
        server = subprocess.run(
            [sys.executable, "-c", "import shared.wsgi"], cwd=ROOT, env=env, capture_output=True, text=True
        )
        with pytest.raises(CommandError, match="is being restored"):
            call_command("work", "--once")
    assert server.returncode == 1
    assert "A backup is being restored into this database" in server.stderr
    assert "Traceback" not in server.stderr


@pytest.mark.sqlite
def test_a_program_that_has_the_file_open_keeps_a_restore_away():
    with contextlib.closing(sqlite3.connect(connection.settings_dict["NAME"])) as other:
        other.execute("SELECT count(*) FROM tooling_tool").fetchall()
        with pytest.raises(Refused, match="Another program has the file"), holding.alone():
            pass
    with holding.alone():
        pass


@pytest.mark.postgresql
def test_a_session_that_is_connected_keeps_a_restore_away():
    code = "import django; django.setup()\nfrom django.db import connection; connection.ensure_connection()\n"
    code += "import sys; print('open', flush=True); sys.stdin.read()"
    with running(code), pytest.raises(Refused, match="1 other sessions are connected"), holding.alone():
        pass
