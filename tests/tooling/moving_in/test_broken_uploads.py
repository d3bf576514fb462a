"""Uploads that break off, change while something is at them, or lie about what is in them."""

import errno
import os
import zipfile
from io import BytesIO

import pytest
from django.conf import settings

from shared import clock
from shared.errors import Refused
from tests.tooling.moving_in.uploads import agree, match, run, take_up, uploaded
from tooling.models import Entry, JobState, MovingIn, Tool
from tooling.selectors.moving_in import page
from tooling.services.moving_in import files, trying
from tooling.services.moving_in.trying import BRING_IN

pytestmark = pytest.mark.django_db

TOOLS = "code,kind,name\nM-1,mold,One\n"


def packed(method: int = zipfile.ZIP_DEFLATED) -> bytes:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", method) as archive:
        archive.writestr("tools.csv", TOOLS * 40)
    return held.getvalue()


def test_a_byte_changed_anywhere_in_a_zip_is_refused_or_read(lead):
    whole = packed()
    refused = 0
    for place in range(0, len(whole), 3):
        broken = bytearray(whole)
        broken[place] ^= 0x55
        try:
            files.drop(take_up(lead, ("list.zip", bytes(broken))), at=clock.now())
        except Refused:
            refused += 1
    assert refused > 20
    assert not list((settings.DATA_DIR / "moving").glob("*/sheets"))


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_zip_whose_unpacking_has_no_end_is_not_unpacked(lead, method):
    with pytest.raises(Refused, match="packed in a way that no spreadsheet uses"):
        take_up(lead, ("list.zip", packed(method)))


def test_a_cut_table_of_another_alphabet_can_be_dropped(lead, client):
    moving = take_up(lead, ("list.csv", TOOLS.encode("utf-16")[:-1]))
    assert "no known way of writing letters" in page(moving).unreadable
    client.force_login(lead, backend="shared.access.RoleBackend")
    for address in (f"/import/{moving.pk}/", f"/import/{moving.pk}/match/"):
        assert client.get(address, follow=True).status_code == 200
    client.post(f"/import/{moving.pk}/drop/")
    assert not MovingIn.objects.exists()


def test_a_full_disk_is_said_and_nothing_stays(lead, monkeypatch):
    def full(path, *, alone):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(files, "_look_at", full)
    with pytest.raises(Refused, match="No space left on device"):
        take_up(lead, ("tools.csv", TOOLS))
    assert not MovingIn.objects.exists()
    assert not list((settings.DATA_DIR / "moving").glob(".*"))


def test_a_program_ended_while_the_mended_file_came_keeps_one_of_them(lead):
    moving = take_up(lead, ("tools.csv", TOOLS))
    sheets = files.sheets_folder(moving)
    sheets.rename(sheets.with_name("before"))
    assert [path.name for path in files.sheets_folder(moving).iterdir()] == ["tools.csv"]
    files.take_up_again(moving, [uploaded("mended.csv", TOOLS)], at=clock.now())
    assert [path.name for path in files.sheets_folder(moving).iterdir()] == ["mended.csv"]
    assert not sheets.with_name("before").exists()


def test_nothing_is_exchanged_while_a_job_reads_it(lead):
    moving = take_up(lead, ("tools.csv", TOOLS))
    trying.start(trying.TRY, moving, by=lead, at=clock.now())
    for deed in (
        lambda: files.take_up_again(moving, [uploaded("x.csv", TOOLS)], at=clock.now()),
        lambda: files.drop(moving, at=clock.now()),
    ):
        with pytest.raises(Refused, match="Something is being done with this upload"):
            deed()
    assert [path.name for path in files.sheets_folder(moving).iterdir()] == ["tools.csv"]


def test_what_was_said_after_the_try_is_tried_before_it_is_brought_in(lead):
    moving = take_up(lead, ("tools.csv", "code,kind,name,xyz\nM-1,mold,One,blue\n"))
    agree(moving)
    run(moving, lead)
    match("tools", "xyz", "tools", "note")
    with pytest.raises(Refused, match="Try it once more"):
        trying.start(BRING_IN, moving, by=lead, at=clock.now())
    run(moving, lead)
    run(moving, lead, BRING_IN)
    assert Tool.objects.get().note == "blue"


def test_what_was_said_while_a_try_is_at_work_is_another_try(lead):
    moving = take_up(lead, ("tools.csv", TOOLS))
    first = trying.start(trying.TRY, moving, by=lead, at=clock.now())
    type(first).objects.filter(pk=first.pk).update(state=JobState.QUEUED)
    assert trying.start(trying.TRY, moving, by=lead, at=clock.now()) == first
    MovingIn.objects.filter(pk=moving.pk).update(given={"make_places": True})
    moving.refresh_from_db()
    assert trying.start(trying.TRY, moving, by=lead, at=clock.now()) != first


def test_a_coat_of_a_day_that_nobody_said_is_not_todays(lead):
    moving = take_up(lead, ("tools.csv", "code,kind,name,prepared,pulls_since_coat\nM-1,mold,One,yes,2\n"))
    agree(moving)
    run(moving, lead)
    run(moving, lead, BRING_IN)
    assert Entry.objects.get(kind="starting_state").payload["prepared"] == "unknown"


def test_what_an_upload_left_that_was_cut_off_goes_after_a_day(lead):
    root = settings.DATA_DIR / "moving"
    old, fresh = root / ".cut-off", root / ".being-written"
    for folder in (old, fresh):
        folder.mkdir(parents=True, exist_ok=True)
    os.utime(old, (0, 0))
    moving = take_up(lead, ("tools.csv", TOOLS))
    assert (old.exists(), fresh.exists()) == (False, True)
    assert files.folder_of(moving).is_dir()
    fresh.rmdir()
