"""A backup of an older state is restored as it was, then goes through the migrations since."""

import contextlib
import hashlib
import json
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import OperationalError, connection, transaction

from shared import clock
from tests.tooling.backup.conftest import wipe
from tests.tooling.backup.packs import changed
from tooling.models import Entry, Shop, Tool, search_index, triggers
from tooling.services.backup import kept, loading, writing
from tooling.services.backup.before_migrate import keep_before_migrate
from tooling.services.backup.restoring import restore
from tooling.services.backup.states import fields_of, label_of, recorded
from tooling.services.backup.unpacking import opened
from tooling.services.backup.writing import Kept
from tooling.services.tools import add_tool

OLD = ["0001_initial", "0002_triggers"]


def as_of_old(content):
    """The same shop as a program would have kept it that knew the first migrations only."""
    state = recorded({"tooling": OLD})
    columns = {label_of(model): [field.attname for field in fields_of(model)] for model in state.models}
    told = json.loads(content["manifest.json"])
    there = {table["label"]: table for table in told["tables"]}
    for name in [name for name in content if name.startswith(("rows/", "pictures/"))]:
        label, data = name.removeprefix("rows/").removesuffix(".jsonl"), content.pop(name)
        if label in columns:
            wanted = [there[label]["columns"].index(column) for column in columns[label]]
            rows = (json.loads(line) for line in data.splitlines())
            lines = [json.dumps([row[place] for place in wanted], separators=(",", ":")) + "\n" for row in rows]
            content[name] = "".join(lines).encode()
    told |= {"migrations": {"tooling": OLD}, "pictures": 0, "picture_bytes": 0, "tables": []}
    for label in sorted(columns):
        data = content[f"rows/{label}.jsonl"]
        told["tables"].append(table_of(label, columns[label], data))
    content["manifest.json"] = json.dumps(told).encode()


def table_of(label, columns, data):
    digest = hashlib.sha256(data).hexdigest()
    return {"label": label, "columns": columns, "rows": data.count(b"\n"), "bytes": len(data), "sha256": digest}


def test_an_older_backup_is_brought_up_to_this_version(backup):
    entries = list(Entry.objects.order_by("pk").values_list("tool__code", "number", "link"))
    old = changed(backup, as_of_old)
    wipe()
    done = restore(old, replace=False, at=clock.now())
    assert list(Entry.objects.order_by("pk").values_list("tool__code", "number", "link")) == entries
    assert done.findings == []
    assert Shop.current().backup_days == 7
    assert not triggers.missing(connection)
    assert not search_index.missing(connection)


def test_a_file_that_also_holds_what_the_database_works_out_is_restored(shop, tmp_path, monkeypatch):
    with monkeypatch.context() as older:
        older.setattr(writing, "fields_of", lambda model: list(model._meta.concrete_fields))
        made = writing.back_up(tmp_path / "older.zip")
    [summaries] = [table for table in made.manifest.tables if table.label == "tooling.summary"]
    assert {"away", "used_at"} <= set(summaries.columns)
    wipe()
    assert restore(made.path, replace=False, at=clock.now()).findings == []
    assert Tool.objects.get(pk=shop.pk).summary.used_at == shop.summary.last_used_at


@pytest.mark.postgresql
@pytest.mark.parametrize(("when", "may"), [("IMMEDIATE", True), ("DEFERRED", False)])
def test_a_migration_may_fill_a_table_and_then_alter_it(shop, when, may):
    """Deferred, PostgreSQL refuses to: the first case says something only together with the second."""
    refused = contextlib.nullcontext() if may else pytest.raises(OperationalError, match="pending trigger events")
    with refused, transaction.atomic(), connection.cursor() as cursor:
        loading._check_references_at(when)
        add_tool(code="LATE", name="Late", kind="mold", release_system=shop.release_system)
        cursor.execute("CREATE INDEX late ON tooling_tool (note)")
        transaction.set_rollback(True)


def test_make_run_backs_up_a_shop_that_is_to_be_migrated(shop):
    call_command("migrate", "tooling", "0012", verbosity=0)
    try:
        made = keep_before_migrate(at=clock.now(), tell=lambda *_: None)
        assert isinstance(made, Kept)
        with opened(made.path) as backup:
            assert backup.manifest.migrations["tooling"][-1] == "0012_job"
    finally:
        call_command("migrate", verbosity=0)
    done = restore(made.path, replace=True, at=clock.now())
    assert done.findings == []
    assert Tool.objects.filter(code=shop.code).exists()


@pytest.mark.sqlite
def test_make_run_makes_a_quick_copy_where_nothing_is_to_be_migrated(shop):
    copied = keep_before_migrate(at=clock.now(), tell=lambda *_: None)
    assert isinstance(copied, Path)
    with closing(sqlite3.connect(copied)) as database:
        assert database.execute("SELECT count(*) FROM tooling_tool").fetchone()[0] == Tool.objects.count()


@pytest.mark.postgresql
def test_make_run_makes_nothing_where_nothing_is_to_be_migrated(shop):
    assert keep_before_migrate(at=clock.now(), tell=lambda *_: None) is None


def test_what_killed_backups_left_in_the_folder_is_swept_by_the_next(shop, tmp_path):
    name = kept.new_path(kept.BY_HAND, clock.now()).name
    left = [kept.folder() / f".{name}.0badcafe.part", kept.folder() / "before-migrate-20260101T000000000000Z.part"]
    for path in left:
        path.write_bytes(b"rows")
        os.utime(path, (1, 1))
    made = writing.back_up(kept.new_path(kept.BEFORE_RESTORE, clock.now())).path
    assert list(kept.folder().iterdir()) == [made]


def test_the_newest_few_of_a_sort_stay(shop, monkeypatch):
    monkeypatch.setattr(kept, "NEWEST", 2)
    stays = kept.new_path(kept.BEFORE_RESTORE, clock.now())
    stays.touch()
    names = []
    for _ in range(3):
        names.append(kept.new_path(kept.BY_HAND, clock.now()).name)
        (kept.folder() / names[-1]).touch()
        kept.thin_out(kept.BY_HAND)
    assert {file.name for file in kept.found()} == {*names[1:], stays.name}
    assert kept.path_of(names[-1]) == kept.folder() / names[-1]
    for name in (names[0], "../secret_key", "/etc/passwd", ""):
        assert kept.path_of(name) is None
