"""The pages on which defects stand: those of a tool, one of them, the tool's own page, and Find."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.pictures import add
from tests.tooling.views.works import do, mold
from tooling.calc.defect_lines import DefectLine
from tooling.services.deeds import void
from tooling.services.defects import numbered

pytestmark = pytest.mark.django_db
PIT = DefectLine(0, "found", "pit", x=500, y=500)


@pytest.fixture
def deck(morning, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    deck = mold("DECK", morning, pulls=None)
    add(deck, 1)
    return deck


@pytest.fixture
def reading(sign_in):
    return sign_in("reader")


def queries(client, address):
    with CaptureQueriesContext(connection) as asked:
        answer = client.get(address)
    assert answer.status_code == 200
    return len(asked)


def test_open_ones_stand_first_and_on_the_picture(reading, deck):
    do("take_note", deck, defects="1 found crack, at 412 310\n2 found pit, at 900 20")
    do("repair", deck, defects="1 closed", method="ground out and filled")
    page = reading.get("/tools/DECK/defects/").text
    assert page.index("pit") < page.index("crack")
    assert page.count('class="defect-marks"') == 2
    assert "Something new" not in page
    story = reading.get("/tools/DECK/defects/1/").text
    assert ("Mended." in story, "Mended by a repair" in story, "Closed" in story) == (True, True, False)
    assert "ground out and filled" in story
    assert "It came back" not in story


def test_it_says_so_where_what_found_it_is_void(reading, deck):
    found = do("take_note", deck, defects="1 found pit")
    do("take_note", deck, defects="1 seen: as it was")
    assert "What found it is void" not in reading.get("/tools/DECK/defects/1/").text
    void(found, reason="another mold", by=None, recorded_by=None)
    assert "What found it is void" in reading.get("/tools/DECK/defects/1/").text


def test_as_many_queries_for_thirty_as_for_one(reading, deck):
    do("take_note", deck, defects=numbered([PIT]))
    few = [queries(reading, address) for address in ("/tools/DECK/defects/", "/tools/DECK/")]
    do("take_note", deck, defects=numbered([PIT] * 29))
    assert [queries(reading, address) for address in ("/tools/DECK/defects/", "/tools/DECK/")] == few


def test_the_page_of_the_tool_says_what_is_open_and_find_finds_it(reading, deck, morning):
    mold("HULL", morning, pulls=None)
    do("take_note", deck, defects="1 found crack, 12 mm, at 412 310")
    assert 'aria-labelledby="s-defects"' in reading.get("/tools/DECK/").text
    for asked, codes in (("yes", ["DECK"]), ("no", ["HULL"])):
        shown = reading.get("/tools/", {"defects": asked}).context["shown"]
        assert [one.row.tool.code for one in shown] == codes
    do("take_note", deck, defects="1 closed: gone")
    assert 'aria-labelledby="s-defects"' not in reading.get("/tools/DECK/").text


@pytest.mark.parametrize("address", ["/tools/NONE/defects/", "/tools/DECK/defects/7/", "/tools/DECK/defects/7/seen/"])
def test_what_is_not_there_is_not_found(sign_in, deck, address):
    assert sign_in("hand").get(address).status_code == 404
