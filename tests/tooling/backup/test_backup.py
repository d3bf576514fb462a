"""`backup`: everything in one verified file, or no file."""

import errno
import json
import os
import resource
import signal
import stat
import subprocess
import sys
import tracemalloc
import zipfile

import pytest
from django.core.management import CommandError, call_command

from shared.errors import Refused
from tests.faults.crew import environment
from tests.guards.tree import ROOT
from tests.tooling.backup.conftest import pictures
from tests.tooling.pictures import stored
from tooling.models import Entry, Picture, Seal, Shop
from tooling.services.backup import writing
from tooling.services.backup.unpacking import opened
from tooling.services.backup.writing import back_up


def test_it_holds_every_row_and_picture_and_says_what(shop, backup):
    with zipfile.ZipFile(backup) as packed:
        told = json.loads(packed.read("manifest.json"))
        entries = packed.read("rows/tooling.entry.jsonl").splitlines()
        kept = {name.partition("/")[2]: packed.read(name) for name in packed.namelist() if name.startswith("pictures/")}
    assert len(entries) == Entry.objects.count()
    assert [json.loads(line)[0] for line in entries] == sorted(Entry.objects.values_list("pk", flat=True))
    assert {f"{digest}.jpg": data for digest, data in kept.items()} == pictures()
    assert (told["pictures"], told["lost"]) == (len(kept), [])
    assert told["seal"] == [Seal.objects.last().day.isoformat(), Seal.objects.last().digest]
    assert stat.S_IMODE(backup.stat().st_mode) == 0o600


def test_the_same_shop_gives_the_same_rows_again(backup, tmp_path):
    with opened(backup) as first, opened(back_up(tmp_path / "again.zip").path) as second:
        assert first.manifest.tables == second.manifest.tables
        assert first.manifest.heads == second.manifest.heads


def test_the_command_says_what_it_did_and_when_is_remembered(shop, tmp_path, capsys):
    call_command("backup", str(tmp_path / "shop.zip"))
    assert "read back and compared" in capsys.readouterr().out
    with opened(tmp_path / "shop.zip") as backup:
        assert Shop.current().backed_up_at == backup.manifest.made_at


def test_progress_reaches_its_end(shop, tmp_path):
    told = []
    back_up(tmp_path / "shop.zip", tell=lambda done, of, words: told.append((done, of, words)))
    words = {word: (done, of) for done, of, word in told}
    assert list(words) == ["Writing rows", "Writing pictures", "Reading it back"]
    assert all(done == of > 0 for done, of in words.values())


def test_a_former_backup_is_replaced_and_nothing_else_is(backup, tmp_path):
    assert back_up(backup).path == backup
    notes = tmp_path / "notes.txt"
    notes.write_text("mine")
    for path, why in (
        (notes, "is no backup"),
        (tmp_path, "is a folder"),
        (tmp_path / "none" / "shop.zip", "no folder"),
    ):
        with pytest.raises(Refused, match=why):
            back_up(path)
    assert notes.read_text() == "mine"


def test_a_picture_that_lost_its_file_is_named_and_all_else_is_kept(shop, tmp_path):
    gone = Picture.objects.first().small
    next(path for path in stored() if gone in path.name).unlink()
    with pytest.raises(CommandError, match=f"1 pictures have lost their file: {gone}"):
        call_command("backup", str(tmp_path / "shop.zip"))
    with opened(tmp_path / "shop.zip") as backup:
        backup.verify(lambda *_: None)
        assert backup.manifest.lost == [gone]


def test_a_full_disk_leaves_no_file_and_the_former_backup(backup, monkeypatch):
    before = backup.read_bytes()

    def full(handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(writing.os, "fsync", full)
    with pytest.raises(Refused, match="The disk is full: no backup was made"):
        back_up(backup)
    assert backup.read_bytes() == before
    assert [path for path in backup.parent.iterdir() if path.is_file()] == [backup]


def in_child(path, before=""):
    """The command in a process of its own, which runs something before."""
    code = f"import os, resource, signal, sys\n{before}\nfrom django.core.management import execute_from_command_line\n"
    code += f"execute_from_command_line(['manage.py', 'backup', {str(path)!r}])"
    return [sys.executable, "-c", code]


@pytest.mark.parametrize("room", [1_000, 8_000])
def test_where_files_cannot_grow_there_is_no_backup(shop, folders, tmp_path, room):
    # Nothing that this process writes may be larger: as a disk that is nearly full.
    limit = (
        f"signal.signal(signal.SIGXFSZ, signal.SIG_IGN); resource.setrlimit(resource.RLIMIT_FSIZE, ({room}, {room}))"
    )
    target = tmp_path / "shop.zip"
    done = subprocess.run(
        in_child(target, limit), cwd=ROOT, env=environment(DATA_DIR=str(folders)), capture_output=True, text=True
    )
    assert done.returncode == 1
    assert "no backup was made" in done.stderr.lower()
    assert "Traceback" not in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["data"]
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] != room


def test_a_killed_backup_leaves_nothing_under_the_name(shop, folders, tmp_path):
    target = tmp_path / "shop.zip"
    stop = "import tooling.services.backup.unpacking as reading\nreading.opened = lambda path: os.kill(os.getpid(), 9)"
    code = f"import django; django.setup()\n{stop}\nimport tooling.services.backup.writing as writing\n"
    child = in_child(target, f"{code}writing.opened = reading.opened")
    done = subprocess.run(child, cwd=ROOT, env=environment(DATA_DIR=str(folders)))
    assert done.returncode == -signal.SIGKILL
    assert not target.exists()
    left = next(tmp_path.glob(".shop.zip.*.part"))
    os.utime(left, (0, 0))
    back_up(target)
    assert not left.exists()


def test_a_backup_takes_no_more_memory_for_more_pictures(shop, tmp_path, monkeypatch):
    monkeypatch.setattr(writing, "_named", lambda state, alias: {f"{n:064x}" for n in range(40)})
    monkeypatch.setattr(writing, "name_of", lambda digest: digest)
    monkeypatch.setattr(writing.default_storage, "open", lambda name: BigFile())
    tracemalloc.start()
    try:
        with pytest.raises(Refused):  # they are not what their names say
            back_up(tmp_path / "shop.zip")
        assert tracemalloc.get_traced_memory()[1] < 24 << 20
    finally:
        tracemalloc.stop()


class BigFile:
    """Four megabytes."""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        pass

    def read(self):
        return bytes(4 << 20)
