"""A scanner that types: tag after tag on a shelf and in Find, without touching anything; and a list without signal."""

import pytest

from tests.tooling.views.works import mold, open_shop
from tooling.models import Entry, Place


@pytest.fixture
def shelves(transactional_db, station, hand):
    """Two shelves, and two molds at home on the first."""
    wax = open_shop()
    first, _other = (Place.objects.create(code=f"B-{n}", name=f"Shelf {n}") for n in (1, 2))
    for code in ("DECK-2A", "HULL520"):
        mold(code, wax, place=first)


def scan(page, text, then):
    """What a scanner types, and what is on the page after it."""
    page.keyboard.type(text)
    page.keyboard.press("Enter")
    page.get_by_text(then).first.wait_for()


def test_a_shelf_is_counted_without_touching_the_box(shelves, opened, station, hand):
    page = opened(station.name, 1280)
    page.goto("/racks/B-1/")
    assert page.evaluate("document.activeElement.name") == "tool"
    page.locator("label.person", has_text=hand.name).click()
    scan(page, "NOPE", "There is no tool NOPE.")
    assert page.locator("[name=tool]").input_value() == "NOPE"
    scan(page, "DECK-2A", "Seen: DECK-2A, Shelf 1.")
    scan(page, "HTTP://X/P/B-2/", "Now at Shelf 2")
    page.locator("h1").click()
    scan(page, "HTTP://X/T/HULL520/", "Seen: HULL520, Shelf 2.")
    page.get_by_role("button", name="Rub it out").click()
    page.get_by_text("Rubbed out").wait_for()
    assert [entry.by for entry in Entry.objects.filter(kind="moved")] == [hand] * 2
    assert page.evaluate("document.activeElement.name") == "tool"


def test_in_find_the_next_scan_replaces_the_one_before(shelves, opened, station):
    page = opened(station.name, 1280)
    page.goto("/tools/")
    scan(page, "zzz", "Nothing found")
    page.wait_for_function("getSelection().toString() === 'zzz'")
    assert page.url.endswith("/tools/?q=zzz&go=1")
    page.get_by_role("radio", name="List").check()
    page.keyboard.type("DECK-2A")
    page.keyboard.press("Enter")
    page.wait_for_url("**/tools/DECK-2A/")


def test_a_list_without_an_answer_says_so_until_there_is_one(shelves, opened, station):
    page = opened(station.name, 1280)
    page.goto("/tools/")
    page.context.set_offline(True)
    page.keyboard.type("hull")
    page.get_by_text("No signal: this is still the list from before.").wait_for()
    assert page.locator("#found.stale .code").all_inner_texts() == ["DECK-2A", "HULL520"]
    page.context.set_offline(False)
    page.locator("#found:not(.stale) .code").first.wait_for()
    assert page.locator("#found .code").all_inner_texts() == ["HULL520"]
    assert page.locator("#unanswered").is_hidden()
