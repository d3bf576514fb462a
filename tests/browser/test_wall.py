"""Two people at one tablet on the wall, with gloves: names, PINs, and back to the rows."""

import pytest

from tests.tooling.views.works import do, mold, open_shop
from tooling.models import Entry, Person
from tooling.services import pins

PINS = {"Mara": "8205", "Jonas": "5061"}


@pytest.fixture
def tablet(transactional_db, opened, station):
    """The rows: a part is in one mold, another can be laid up."""
    wax = open_shop()
    for name, pin in PINS.items():
        pins.set_pin(Person.objects.named(name), pin=pin)
    do("lay_up", mold("DECK-2A", wax))
    mold("HULL520", wax, pulls=1)
    page = opened(station.name, 1280, 800)
    page.goto("/wall/")
    return page


def tap(page, name, pin=""):
    """A name, and the digits of its PIN."""
    page.locator("label.person", has_text=name).click()
    for digit in pin:
        page.locator(".pad").get_by_role("button", name=digit, exact=True).click()


def test_two_people_log_a_pull_and_a_coat(tablet):
    page = tablet
    page.get_by_role("link", name="Pulled DECK-2A").click()
    tap(page, "Mara", "1597")
    page.get_by_role("button", name="Free").click()
    page.get_by_text("That is not the PIN of Mara.").first.wait_for()
    tap(page, "Mara", PINS["Mara"])
    page.get_by_role("button", name="Free").click()
    page.get_by_text("DECK-2A, written").wait_for()
    page.goto("/tools/DECK-2A/coat/")
    tap(page, "Jonas", PINS["Jonas"])
    page.get_by_role("button", name="coat on").first.click()
    page.wait_for_url("**/wall/")
    page.goto("/tools/HULL520/strip/")
    page.locator("label.person", has_text="Mara").click()
    assert page.locator(".pin-box").is_hidden()
    page.locator("form.extras button.big").click()
    page.get_by_text("HULL520, written").wait_for()
    assert [(entry.kind, entry.by.name) for entry in Entry.objects.order_by("-id")[:3]] == [
        ("strip", "Mara"), ("coat", "Jonas"), ("pull", "Mara"),
    ]  # fmt: skip
    page.get_by_role("link", name="Rub it out").first.click()
    page.get_by_role("button", name="Mara: rub it out").click()
    page.get_by_text("Rubbed out, as by Mara").wait_for()


def test_rows_renew_themselves_and_an_idle_page_goes_back(tablet):
    page = tablet
    page.clock.install()
    page.goto("/wall/")
    do("hold", mold("NEW-1", None, pulls=None), reason="crack")
    do("lay_up", mold("TENDER", None, pulls=None))
    with page.expect_response("**/wall/rows/*"):
        page.clock.run_for(31_000)
    page.get_by_role("link", name="TENDER", exact=True).wait_for()
    page.goto("/tools/HULL520/strip/")
    page.clock.run_for(121_000)
    page.wait_for_url("**/wall/")
