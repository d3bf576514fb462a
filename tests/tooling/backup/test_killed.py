"""A restore that is killed at any moment leaves the old shop or the new one, whole."""

import os
import random
import subprocess
import sys
import time

import pytest
from django.core.management import call_command
from django.db import OperationalError, connection

from shared import clock
from shared.errors import Refused
from tests.faults.crew import environment
from tests.guards.tree import ROOT
from tests.tooling.backup.conftest import exported
from tooling.models import Shop
from tooling.services.backup import standing
from tooling.services.backup.restoring import restore
from tooling.services.whole_check import findings

# `make faults` kills it many times more.
KILLS = 40 if "EXAMPLES" in os.environ else 2


def test_a_killed_restore_leaves_one_of_two_whole_shops(backup, folders, tmp_path):
    rng = random.Random(5)
    Shop.objects.update(name="The later shop")
    later = exported(tmp_path / "later")
    connection.close()
    command = [sys.executable, "manage.py", "restore", str(backup), "--replace"]
    whole = took(command, folders)
    earlier = exported(tmp_path / "earlier")
    assert earlier != later
    for number in range(KILLS):
        connection.close()
        took(command, folders, kill_after=whole * rng.uniform(0.3, 1))
        answers_again()
        assert exported(tmp_path / str(number)) in (earlier, later)
        assert not list(findings())


def answers_again():
    """Waits until the server has seen that the killed one is gone: until then its lock stands."""
    for _try in range(100):
        try:
            connection.ensure_connection()
        except OperationalError:
            time.sleep(0.2)
        else:
            return
    raise AssertionError("The lock of a killed restore stands for twenty seconds.")


def took(command, folders, kill_after=None):
    """Seconds that a restore took, until it ended or was killed."""
    began = time.monotonic()
    child = subprocess.Popen(command, cwd=ROOT, env=environment(DATA_DIR=str(folders)), stdout=subprocess.DEVNULL)
    try:
        child.wait(timeout=kill_after)
    except subprocess.TimeoutExpired:
        child.kill()
        child.wait()
    return time.monotonic() - began


@pytest.mark.sqlite
def test_a_power_cut_while_the_new_file_is_written_over_the_old_leaves_the_old(backup, folders, tmp_path):
    """The last step, stopped after some pages: SQLite takes them back when the file is next opened."""
    Shop.objects.update(name="The later shop")
    later = exported(tmp_path / "later")
    connection.close()
    stop = "lambda left, rest, total: os.kill(os.getpid(), 9) if rest < total / 2 else None"
    code = f"""
import os, sqlite3, types, django
django.setup()
from tooling.services.backup import standing
class Cut(sqlite3.Connection):
    def backup(self, target):
        super().backup(target, pages=10, progress={stop})
cut = lambda path: sqlite3.connect(path, factory=Cut)
standing.sqlite3 = types.SimpleNamespace(connect=cut, Error=sqlite3.Error, DatabaseError=sqlite3.DatabaseError)
from django.core.management import call_command
call_command("restore", {str(backup)!r}, replace=True)
"""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=environment(DATA_DIR=str(folders)))
    assert done.returncode == -9
    assert exported(tmp_path / "after") == later
    assert not list(findings())
    connection.close()
    call_command("restore", str(backup), replace=True, verbosity=0)
    assert not list(tmp_path.rglob("*.restored*"))


@pytest.mark.postgresql
def test_what_postgresql_refuses_is_said_in_a_sentence(shop, backup):
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE of_somebody_else (tool bigint REFERENCES tooling_tool)")
    try:
        with pytest.raises(Refused, match="could not be put in its place, and all is as it was: cannot drop"):
            restore(backup, replace=True, at=clock.now())
    finally:
        with connection.cursor() as cursor:
            cursor.execute("DROP TABLE of_somebody_else")
    assert standing.holds_a_shop()
