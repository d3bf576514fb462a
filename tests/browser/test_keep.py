"""A lead backs the shop up, has its history checked and looks for a seal, in a browser."""

import threading

import pytest

from tests.browser.going import follow
from tests.tooling.backup.conftest import folders, shop
from tooling.models import Job, Person, Seal
from tooling.services.backup.unpacking import opened
from tooling.services.jobs.working import work

__all__ = ["folders", "shop"]
WORD = "long enough for a test"


@pytest.fixture
def keep(shop, live_server, page):
    """The page of backups and seals, as a lead comes to it."""
    Person.objects.create_person("Ines", "lead", WORD)
    page.goto(f"{live_server.url}/")
    page.get_by_label("Name").fill("Ines")
    page.get_by_label("Password").fill(WORD)
    page.locator("main button[type=submit]").click()
    page.get_by_role("link", name="Back up").click()
    return page


def do_jobs():
    """What the worker beside the server does."""
    assert work(threading.Event(), once=True) == 1


def test_a_backup_is_asked_for_made_and_downloaded(keep, tmp_path):
    keep.get_by_role("button", name="Back up now").click()
    keep.wait_for_url("**/jobs/*/")
    do_jobs()
    keep.wait_for_url("**/keep/")  # the page of the job leads on by itself
    assert keep.get_by_text("Last backed up").is_visible()
    with keep.expect_download() as coming:
        keep.get_by_role("link", name="Download that of").click()
    coming.value.save_as(tmp_path / "shop.zip")
    with opened(tmp_path / "shop.zip") as backup:
        backup.verify(lambda *_: None)


def test_the_history_is_checked_and_a_seal_looked_for(keep):
    keep.get_by_role("button", name="Check the history now").click()
    keep.wait_for_url("**/jobs/*/")
    do_jobs()
    keep.wait_for_url("**/keep/")
    assert keep.get_by_text("No fault in").is_visible()
    keep.get_by_role("link", name="Send a seal out, or check one").click()
    seal = Seal.objects.get()
    keep.get_by_label("The seal, or the whole letter").fill(f"Seal of {seal.day}: {seal.digest}")
    follow(keep, keep.get_by_role("button", name="Check it"))
    assert keep.get_by_text("and it stands as it was made").is_visible()
    assert Job.objects.count() == 1
