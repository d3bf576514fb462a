"""A rack is counted with a scanner that types: one is missing, one does not belong there, one tag is unknown."""

import pytest

from tests.browser.going import follow
from tests.tooling.views.works import mold, open_shop
from tooling.models import CountMark, Place, PlaceCount, Summary


@pytest.fixture
def rack(transactional_db, lead):
    """Two molds have their home on the shelf, a third in another rack."""
    wax = open_shop()
    rack = Place.objects.create(code="RACK-B", name="Rack B", kind="rack")
    shelf = Place.objects.create(code="B-1", name="Shelf 1", kind="shelf", parent=rack)
    other = Place.objects.create(code="C-1", name="Rack C, shelf 1")
    for code, place in (("DECK-2A", shelf), ("FIN9", shelf), ("HULL520", other)):
        mold(code, wax, pulls=None, place=place)
    return shelf


def scan(page, text, then):
    """What a scanner types, and what is on the page after it."""
    page.keyboard.type(text)
    follow(page, page.get_by_role("button", name="Seen", exact=True))
    page.get_by_text(then).first.wait_for()


def test_a_count_with_one_missing_one_misplaced_and_one_unknown(rack, opened, lead):
    page = opened(lead.name, 390)
    page.goto("/racks/RACK-B/")
    follow(page, page.get_by_role("button", name="Count what lies here"))
    scan(page, "HTTP://X/P/B-1/", "At Shelf 1: what is scanned next was seen there.")
    scan(page, "HTTP://X/T/DECK-2A/", "1 of 2 seen.")
    scan(page, "HULL520", "one whose home is elsewhere")
    scan(page, "OLD-7", "one tag that nobody knows")
    follow(page, page.get_by_role("button", name="It is not here FIN9"))
    page.get_by_text("FIN9: Not met in the count of Rack B.").wait_for()
    follow(page, page.get_by_role("button", name="I take it home HULL520"))
    follow(page, page.get_by_role("button", name="Nothing of ours OLD-7"))
    follow(page, page.get_by_role("button", name="The count is done"))
    assert "Counted: 1 of 2 seen. One not met." in " ".join(page.locator(".verdict").inner_text().split())
    assert PlaceCount.objects.get().ended_by == lead
    lies = dict(Summary.objects.values_list("tool__code", "seen_place__code"))
    assert lies == {"DECK-2A": "B-1", "FIN9": None, "HULL520": "C-1"}
    assert CountMark.objects.get(text="OLD-7").settled
