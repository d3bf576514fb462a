"""A restore has the database alone: no server, no worker, no other program."""

import contextlib
import gc
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
from tooling.models import Person

pytestmark = pytest.mark.django_db(transaction=True)
SERVER = "import shared.wsgi, sys; print('open', flush=True); sys.stdin.read()"


@pytest.fixture(autouse=True)
def nobody_else():
    """Connections of threads that have ended, in tests before these, are open until they are collected."""
    gc.collect()


@contextlib.contextmanager
def running(code, first="", **env):
    """Another process, once it has said that it is there."""
    pipe = subprocess.PIPE
    with subprocess.Popen(
        [sys.executable, "-c", code], cwd=ROOT, env=environment(**env), stdin=pipe, stdout=pipe, text=True
    ) as child:
        if first:
            child.stdin.write(f"{first}\n")
            child.stdin.flush()
        assert child.stdout.readline() == "open\n"
        yield child
        child.stdin.close()


def test_a_server_keeps_a_restore_away_until_it_ends(settings):
    why = r"The shop is open: a server, a worker or a command uses this database"
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


def test_a_command_keeps_a_restore_away_while_it_writes(settings):
    code = "import django; django.setup()\nfrom shared.commands import ShopCommand\nimport sys\n"
    code += "from django.db import connection\n"
    code += "class Slow(ShopCommand):\n    def handle(self, *args, **options):\n        connection.cursor().close()\n"
    code += "        connection.close() if connection.vendor == 'sqlite' else None\n"
    code += "        print('open', flush=True); sys.stdin.read()\n"
    code += "Slow().run_from_argv(['manage.py', 'slow'])"
    why = r"a server, a worker or a command uses this database"
    with running(code, DATA_DIR=str(settings.DATA_DIR)), pytest.raises(Refused, match=why), holding.alone():
        pass


COMMANDS = (
    ["person", "Late Comer", "--role", "lead"], ["import_shop", "."], ["log_entry", "M-1", "seen"], ["demo"],
    ["add_pictures", "."], ["check_history", "--relay"], ["sweep_pictures"], ["welcome"], ["work", "--once"],
)  # fmt: skip


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: words[0])
def test_no_command_begins_during_a_restore(words):
    with holding.alone(), pytest.raises(CommandError, match="is being restored into this database"):
        call_command(*words)


@pytest.mark.postgresql
def test_nothing_of_another_machine_connects_during_a_restore(tmp_path):
    code = "import django; django.setup()\nfrom tooling.models import Person\nPerson.objects.create_person('Late')"
    env = environment(DATA_DIR=str(tmp_path))
    with holding.alone():
        late = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=env, capture_output=True, text=True)
        holding.nobody_else()
    assert late.returncode == 1
    assert "A backup is being restored into this database" in late.stderr
    assert not Person.objects.filter(name="Late").exists()


@pytest.mark.postgresql
def test_a_connection_that_was_lost_is_noticed():
    with holding.alone():
        connection.close()
        with pytest.raises(Refused, match="The connection to the database was lost"):
            holding.nobody_else()


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
    code = "import psycopg, sys; there = psycopg.connect(sys.stdin.readline())\n"
    code += "print('open', flush=True); sys.stdin.read()"
    psycopg = pytest.importorskip("psycopg")
    told = connection.get_connection_params()
    wanted = ("host", "port", "user", "password", "dbname")
    dsn = psycopg.conninfo.make_conninfo(**{name: told[name] for name in wanted if name in told})
    with running(code, first=dsn), pytest.raises(Refused, match="1 other sessions are connected"), holding.alone():
        pass
