"""Commands in a folder that holds no shop: one line that says so, and never a traceback."""

import os
import sqlite3
import subprocess
import sys

import pytest

from tests.guards.tree import ROOT

COMMANDS = [
    ["demo"], ["person", "Ines", "--role", "lead"], ["release_status"], ["import_shop", "."], ["export_shop", "out"],
    ["check_history"], ["check_history", "--relay"], ["welcome"],
]  # fmt: skip
# All in one process: Django takes its time to start.
RUN = """
import sys
from django.core.management import execute_from_command_line
for words in {commands}:
    try:
        execute_from_command_line(["manage.py", *words])
    except SystemExit as ended:
        print(words[0], "ended with", ended.code, file=sys.stderr)
"""


def lines(folder, commands, **more):
    environment = {**os.environ, "DATA_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "shared.settings"}
    environment.pop("DATABASE_URL", None)
    environment |= {"PYTHONPATH": str(ROOT), **more}
    command = [sys.executable, "-c", RUN.format(commands=commands)]
    ended = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=True)
    return ended.stderr.splitlines()


@pytest.mark.sqlite
def test_a_folder_without_a_shop_is_said_in_one_line(tmp_path):
    (tmp_path / "tools.csv").write_text("code,kind,name\n")
    said = lines(tmp_path, COMMANDS)
    assert said[1::2] == [f"{words[0]} ended with 1" for words in COMMANDS]
    assert {line.partition(":")[0] for line in said[::2]} == {"CommandError"}
    assert all("This folder has no shop yet: run migrate" in line for line in said[::2])


@pytest.mark.sqlite
def test_a_shop_of_an_older_version_is_to_be_migrated(tmp_path):
    with sqlite3.connect(tmp_path / "shop.sqlite3") as old:
        old.execute("CREATE TABLE django_migrations (id integer PRIMARY KEY, app text, name text, applied datetime)")
        old.execute("INSERT INTO django_migrations VALUES (1, 'tooling', '0001_initial', '2026-01-01')")
    assert "older version" in lines(tmp_path, [["release_status"]])[0]


def test_a_server_that_does_not_answer_is_said_in_one_line(tmp_path):
    [said, ended] = lines(tmp_path, [["release_status"]], DATABASE_URL="postgres://nobody@127.0.0.1:1/shop")
    assert said.startswith("CommandError: The database cannot be opened:")
    assert ended == "release_status ended with 1"
