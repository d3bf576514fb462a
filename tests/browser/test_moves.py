"""A tool is moved by two scans, put back with one tap, and one that is lent stands first until it is handed back."""

from datetime import timedelta

import pytest

from shared import clock
from tests.browser.going import follow
from tests.tooling.views.works import do, mold, open_shop
from tooling.models import Entry, Place, Summary


@pytest.fixture
def shelves(transactional_db, hand):
    """Two shelves; one mold is at home on the first, another should have been back from a loan."""
    wax = open_shop()
    first, second = (Place.objects.create(code=f"B-{n}", name=f"Shelf {n}") for n in (1, 2))
    mold("DECK-2A", wax, pulls=None, place=first)
    late, due = clock.now() - timedelta(days=9), (clock.now() - timedelta(days=3)).date()
    do("lend", mold("HULL520", wax, pulls=None), at=late, person="The yard", until=due)
    return second


def test_a_move_by_two_scans_a_put_back_and_a_loan_that_is_late(shelves, opened, hand):
    page = opened(hand.name, 390)
    page.goto("/move/")
    for text, then in (("DECK-2A", "is read"), ("HTTP://X/P/B-2/", "DECK-2A is at Shelf 2 now. Its home is Shelf 1.")):
        page.locator("[name=text]").fill(text)
        page.keyboard.press("Enter")
        page.get_by_text(then).wait_for()
    page.goto("/")
    row = page.locator("section[aria-labelledby=home] li")
    assert "Not back since" in row.first.inner_text()
    follow(page, row.nth(1).get_by_role("button", name="Put back"))
    assert Summary.objects.get(tool__code="DECK-2A").seen_place.code == "B-1"
    page.goto("/t/DECK-2A/")
    page.goto("/p/B-2/")  # the second tag writes the move by itself
    page.wait_for_url("**/tools/DECK-2A/")
    page.get_by_role("button", name="Rub it out").wait_for()
    assert [one.payload["place"] for one in Entry.objects.filter(kind="moved")][-1] == shelves.pk
    page.goto("/")
    follow(page, row.first.get_by_role("link", name="Handed back"))
    follow(page, page.get_by_role("button", name="It is back"))
    assert not Summary.objects.get(tool__code="HULL520").lent
