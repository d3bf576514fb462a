"""Backups, the check of the history and seals on screen."""

import re
import threading
from datetime import timedelta
from urllib.parse import unquote

import pytest
from django.urls import reverse

from shared import clock
from tests.plugin_triggers import lifted
from tests.tooling.backup.conftest import folders, shop
from tooling.models import Entry, Job, JobState, Seal, Shop
from tooling.services.backup import kept
from tooling.services.backup.unpacking import opened
from tooling.services.jobs.working import work

__all__ = ["folders", "shop"]
pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.both]
KEEP, SEAL = "/keep/", "/keep/seal/"


@pytest.fixture
def signed(client, shop, lead):
    client.force_login(lead)
    return client


def do_jobs():
    """What the worker beside the server does."""
    assert work(threading.Event(), once=True) == 1


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_back_up_now_is_a_job_that_leaves_a_file_to_download(signed):
    assert "This shop was never backed up." in words(signed.get(KEEP))
    asked = signed.post(reverse("back_up_now"))
    assert asked.url == reverse("job", args=[Job.objects.get().pk])
    assert signed.post(reverse("back_up_now")).url == asked.url
    assert "A backup is asked for" in words(signed.get(KEEP))
    do_jobs()
    job = Job.objects.get()
    assert (job.state, "read back and compared" in job.words) == (JobState.DONE, True)
    page = signed.get(KEEP)
    file = kept.found()[0]
    assert f'href="/keep/backups/{file.name}"' in page.text
    assert "Last backed up" in words(page)
    reply = signed.get(f"/keep/backups/{file.name}")
    path = kept.folder() / "again.zip"
    path.write_bytes(b"".join(reply.streaming_content))
    with opened(path) as backup:
        backup.verify(lambda *_: None)


def test_a_backup_that_is_cancelled_leaves_no_file(signed, monkeypatch):
    signed.post(reverse("back_up_now"))
    monkeypatch.setattr("tooling.services.jobs.board.Board.is_cancel_asked", lambda board: True)
    monkeypatch.setattr("tooling.services.jobs.board.RowBoard.is_cancel_asked", lambda board: True)
    do_jobs()
    assert Job.objects.get().state == JobState.CANCELLED
    assert list(kept.folder().iterdir()) == []
    assert Shop.current().backed_up_at is None


@pytest.mark.parametrize("name", ["secret_key", "..%2Fsecret_key", "shop-20260101T000000000000Z.zip", "shop.zip%00"])
def test_nothing_but_a_backup_is_given_out(signed, folders, name):
    (folders / "secret_key").write_text("s")
    (folders / "backups").mkdir()
    (folders / "backups" / "secret_key").write_text("s")
    assert signed.get(f"/keep/backups/{name}").status_code == 404


def test_the_check_of_the_history_says_that_all_is_well(signed):
    signed.post(reverse("check_now"))
    do_jobs()
    assert f"No fault in {Entry.objects.count()} entries." in words(signed.get(KEEP))


def test_the_check_of_the_history_names_what_was_changed(signed, shop):
    with lifted():
        Entry.objects.filter(tool=shop, number=1).update(came_off="stuck")
    signed.post(reverse("check_now"))
    do_jobs()
    page = words(signed.get(KEEP))
    assert re.search(r"[1-9][0-9]* faults in", page)
    assert f"{shop.code} 1:" in page
    job = Job.objects.get()
    assert f"{shop.code} 1:".encode() in b"".join(signed.get(reverse("job_file", args=[job.pk])).streaming_content)


def test_the_board_says_when_the_last_backup_is_too_old(signed, reader):
    def board(user=None):
        if user:
            signed.force_login(user)
        return words(signed.get("/"))

    assert "This shop was never backed up. Back up" in board()
    Shop.objects.update(backed_up_at=clock.now() - timedelta(days=6, hours=23))
    assert "backup" not in board().lower().partition("in the molds")[0].partition("signed in as")[0]
    Shop.objects.update(backed_up_at=clock.now() - timedelta(days=7))
    assert "The last backup is 7 days old. Back up" in board()
    Shop.objects.update(backup_days=0)
    assert "The last backup is" not in board()
    Shop.objects.update(backup_days=1)
    assert "The last backup is 7 days old." in board(reader)
    assert reverse("keep") not in signed.get("/").text


def sealed():
    """The first deed of the next day makes the seal of all before."""
    from tooling.services.seals import seal_if_new_day

    return seal_if_new_day(clock.now() + timedelta(days=1))


def test_the_last_seal_is_printed_and_sent_out(signed):
    seal = sealed()
    page = signed.get(SEAL)
    mail = unquote(re.search(r'href="(mailto:[^"]+)"', page.text).group(1).replace("&amp;", "&"))
    assert f"Seal of {seal.day}: {seal.digest}" in mail
    assert seal.digest in words(page).replace(" ", "")


def test_a_kept_seal_is_found_again_however_it_was_copied(signed):
    seal = sealed()
    grouped = " ".join(seal.digest[n : n + 8] for n in range(0, 64, 8))
    for typed in (seal.digest, seal.digest.upper(), grouped, f"Dear office,\nSeal of {seal.day}: {seal.digest}\nYours"):
        page = words(signed.get(SEAL, {"seal": typed}))
        assert f"It is the seal of {seal.day}, and it stands as it was made." in page
    assert f"{Entry.objects.count()} entries of" in page


def test_a_seal_that_was_made_anew_is_not_found(signed):
    kept_outside = sealed().digest
    with lifted():
        Seal.objects.filter(digest=kept_outside).update(digest="0" * 64)
    assert "No seal of this shop is that." in words(signed.get(SEAL, {"seal": kept_outside}))
    assert "There is no seal in that" in words(signed.get(SEAL, {"seal": "a letter without one"}))


def test_a_seal_over_entries_that_were_changed_does_not_stand(signed, shop):
    seal = sealed()
    with lifted():
        Entry.objects.filter(tool=shop).update(link="f" * 64)
    assert "something was changed after that day" in words(signed.get(SEAL, {"seal": seal.digest}))


@pytest.mark.parametrize("address", ["keep", "back_up_now", "check_now", "keep_seal"])
def test_only_a_lead_gets_there(client, shop, hand, address):
    client.force_login(hand)
    assert client.get(reverse(address)).status_code == 403
    assert client.post(reverse(address)).status_code == 403
    assert not Job.objects.exists()
