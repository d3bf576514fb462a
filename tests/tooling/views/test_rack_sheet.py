"""The sheet of a rack: drawn and as a list, read back as text."""

import pytest

from tests.shared.paper.needs import pango
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, do, mold
from tooling.models import Place

pytestmark = [pytest.mark.django_db, pango]


@pytest.fixture
def rack(morning):
    """A rack with a shelf of two bays: one tool seen, one told of, one lent."""
    whole = Place.objects.create(code="RACK-B", name="Rack B", kind="rack")
    shelf = Place.objects.create(code="B-1", name="Rack B, shelf 1", kind="shelf", parent=whole, max_load_kg=45)
    for code in ("B-1-1", "B-1-2"):
        Place.objects.create(code=code, name=code, kind="bay", parent=shelf)
    sizes = {"length_mm": 5000, "width_mm": 700, "height_mm": 300}
    bay = Place.objects.get(code="B-1-1")
    deck = mold("DECK", morning, place=bay, mass_kg=50, lift="two, one at each end", **sizes)
    do("move", deck, place=bay, at=ago(hours=2))
    mold("TENDER", morning, place=shelf)
    do("lend", mold("HULL", morning, place=shelf), person="Heron Spit", at=ago(hours=2))
    return whole


def test_it_has_drawing_and_list_with_page_numbers(sign_in, rack):
    reply = sign_in("reader").get("/racks/RACK-B/sheet.pdf")
    assert reply["Content-Type"] == "application/pdf"
    [text] = pages(reply.content)
    for words in (
        "RACK-B", "50 kg in all. 1 tool without a mass is not counted.", "50 kg in all of at most 45 kg: too much",
        "B-1-2", "Nothing on it.", "5000 × 700 × 300 mm", "not seen yet: its home is here",
        "not here: lent to Heron Spit", "WARNING", "Lift: two, one at each end.", "1 of 1",
    ):  # fmt: skip
        assert words in text, words


def test_it_is_in_the_units_of_its_reader_and_on_their_paper(sign_in, rack):
    [text] = pages(sign_in("reader", units="us").get("/racks/RACK-B/sheet.pdf").content)
    assert "110 lb" in text
    assert "kg" not in text


def test_an_older_code_leads_to_it_and_an_unknown_place_has_none(sign_in, rack):
    client = sign_in("reader")
    assert client.get("/racks/rack-b/sheet.pdf?paper=a4").url == "/racks/RACK-B/sheet.pdf?paper=a4"
    assert client.get("/racks/NONE/sheet.pdf").status_code == 404
