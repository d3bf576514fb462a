"""`restore`: the shop of a backup, all of it, or the shop that was there."""

import errno
import shutil
from collections import namedtuple
from datetime import timedelta
from io import StringIO
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from shared import clock
from shared.errors import Refused
from tests.plugin_triggers import lifted
from tests.tooling.backup.conftest import exported, pictures, wipe
from tests.tooling.backup.packs import changed, rows_told
from tooling.models import Entry, Job, Person, Picture, Shop, Tool, search_index, triggers
from tooling.selectors.find import with_words
from tooling.services import deeds
from tooling.services.backup import kept, loading, restoring, room
from tooling.services.backup.restoring import restore
from tooling.services.backup.unpacking import opened
from tooling.services.backup.writing import back_up

pytestmark = pytest.mark.usefixtures("tables_made_once")
Usage = namedtuple("Usage", "total used free")


@pytest.fixture
def before(backup, tmp_path):
    """Sheets and pictures as they were when the backup was made."""
    return exported(tmp_path / "before"), pictures()


def put_back(path, replace=False):
    return restore(path, replace=replace, at=clock.now())


def test_a_wiped_shop_is_there_again(before, backup, tmp_path):
    assert b"HULL,B,mold," in before[0]["tool_sets.csv"]
    assert b"HULL,B,2," in before[0]["wanted.csv"]
    wipe()
    done = put_back(backup)
    assert (exported(tmp_path / "after"), pictures()) == before
    assert (done.before, done.findings) == (None, [])
    assert Person.objects.get(name="Zoë Łukasz").check_password("long enough for a test")
    assert not triggers.missing(connection)
    assert not search_index.missing(connection)
    given = Picture.objects.exclude(entry=None).get()
    assert (given.entry.tool, given.entry.kind, given.mark) == (given.tool, "pull", (250, 750))


def test_the_next_rows_come_after_those_that_were_restored(before, backup):
    wipe()
    put_back(backup)
    last = Entry.objects.latest("pk").pk
    deeds.log_pull(Tool.objects.get(code="M-5"), by=None, recorded_by=None, token=uuid4(), came_off="free")
    assert Entry.objects.latest("pk").pk == last + 1
    assert Person.objects.create_person("New").pk > Person.objects.get(name="Zoë Łukasz").pk


def test_a_shop_that_is_there_is_not_replaced_unasked(before, backup, tmp_path):
    with pytest.raises(Refused, match=r"This database holds a shop\. Say --replace"):
        put_back(backup)
    assert (exported(tmp_path / "after"), pictures()) == before


def test_a_shop_that_is_replaced_is_backed_up_first(shop, backup, tmp_path):
    deeds.log_pull(shop, by=None, recorded_by=None, token=uuid4(), came_off="free")
    Job.objects.create(kind="any", asked_by=Person.objects.last(), asked_at=clock.now())
    later = exported(tmp_path / "later")
    done = put_back(backup, replace=True)
    assert exported(tmp_path / "after") != later
    assert not Job.objects.exists()
    assert done.before.parent == kept.folder()
    put_back(done.before, replace=True)
    assert exported(tmp_path / "again") == later


def test_faults_that_were_backed_up_are_restored_and_said(shop, tmp_path):
    with lifted():
        Entry.objects.filter(tool=shop, number=1).update(came_off="stuck")
    back_up(tmp_path / "faulty.zip")
    wipe()
    out = StringIO()
    with pytest.raises(CommandError, match=r"It is restored as it was kept, with [0-9]+ faults"):
        call_command("restore", str(tmp_path / "faulty.zip"), stdout=out)
    assert f"{shop.code} 1:" in out.getvalue()
    assert Shop.current().name == "Faults"


def rename_a_tool(content):
    """A row that no shop can have: two tools of one code."""
    name = "rows/tooling.tool.jsonl"
    content[name] = content[name].replace(b'"M-3"', b'"M-2"')
    rows_told(content, "tooling.tool")


def lose_a_tool(content):
    name = "rows/tooling.tool.jsonl"
    content[name] = content[name].partition(b"\n")[2]
    rows_told(content, "tooling.tool")


@pytest.mark.parametrize("change", [rename_a_tool, lose_a_tool])
def test_rows_that_contradict_each_other_leave_the_shop_as_it_was(before, backup, tmp_path, change):
    bad = changed(backup, change)
    with pytest.raises(Refused, match="cannot be loaded"):
        put_back(bad, replace=True)
    assert (exported(tmp_path / "after"), pictures()) == before
    assert not triggers.missing(connection)


@pytest.mark.parametrize("place", ["_load", "_compare", "_set_sequences", "emit_post_migrate_signal"])
def test_whatever_fails_on_the_way_leaves_the_shop_as_it_was(before, backup, tmp_path, monkeypatch, place):
    def power_cut(*args, **kwargs):
        raise RuntimeError("power cut")

    monkeypatch.setattr(loading, place, power_cut)
    with pytest.raises(RuntimeError, match="power cut"):
        put_back(backup, replace=True)
    assert (exported(tmp_path / "after"), pictures()) == before
    assert not triggers.missing(connection)
    assert not list(Path(connection.settings_dict["NAME"]).parent.glob("*.restored*"))


def test_what_reads_back_otherwise_is_not_put_in_place(before, backup, tmp_path, monkeypatch):
    monkeypatch.setattr(loading, "table_digest", lambda *_: (0, ""))
    with pytest.raises(Refused, match="does not read back the same"):
        put_back(backup, replace=True)
    assert (exported(tmp_path / "after"), pictures()) == before


def test_what_does_not_fit_on_the_disk_is_not_begun(backup, monkeypatch):
    wipe()
    monkeypatch.setattr(room.shutil, "disk_usage", lambda path: Usage(1 << 30, 1 << 30, 1000))
    with pytest.raises(Refused, match=r"wants [1-9]+ MB on the disk of .*, and there are 0 MB free"):
        put_back(backup)
    assert not Shop.objects.exists()
    assert not pictures()


@pytest.fixture
def oldest(shop):
    """The oldest of as many backups as are kept, and the names of all of them."""
    oldest = back_up(kept.new_path(kept.BEFORE_RESTORE, clock.now() - timedelta(days=9))).path
    for days in range(1, kept.NEWEST):
        shutil.copy(oldest, kept.new_path(kept.BEFORE_RESTORE, clock.now() - timedelta(days=days)))
    return oldest, {file.name for file in kept.found()}


def test_a_refused_restore_removes_no_backup_and_makes_none(oldest, monkeypatch):
    path, names = oldest
    monkeypatch.setattr(room.shutil, "disk_usage", lambda path: Usage(1 << 30, 1 << 30, 1000))
    with pytest.raises(Refused, match="Make room first"):
        put_back(path, replace=True)
    assert {file.name for file in kept.found()} == names


def test_the_backup_that_is_restored_stays_though_it_is_the_oldest(oldest):
    path, names = oldest
    done = put_back(path, replace=True)
    assert {file.name for file in kept.found()} == {*names, done.before.name}
    put_back(done.before, replace=True)
    assert not path.exists()
    assert len(kept.found()) == kept.NEWEST


@pytest.mark.sqlite
def test_the_database_is_judged_by_its_own_disk(backup, folders, monkeypatch):
    asked = []
    monkeypatch.setattr(room.shutil, "disk_usage", lambda path: asked.append(path) or Usage(1 << 40, 1, 1 << 40))
    needs = dict(room._needs(opened_manifest(backup), keeps_present=False))
    database = Path(connection.settings_dict["NAME"])
    assert needs[database.parent] >= 2 * database.stat().st_size
    room.must_be_there(opened_manifest(backup), keeps_present=True)
    assert asked[0] == database.parent


def opened_manifest(path):
    with opened(path) as backup:
        return backup.manifest


def test_pictures_that_cannot_be_stored_leave_the_shop_as_it_was(before, backup, tmp_path, monkeypatch):
    def full(data):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(restoring.picture_files, "put", full)
    with pytest.raises(Refused, match="The pictures cannot be stored: No space left"):
        put_back(backup, replace=True)
    assert (exported(tmp_path / "after"), pictures()) == before


def test_the_search_finds_what_was_restored(before, backup):
    wipe()
    put_back(backup)
    assert with_words(Tool.objects.all(), ["m", "7"]).get().code == "M-7"
