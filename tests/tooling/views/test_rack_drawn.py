"""A rack drawn to its shelves and bays, with what lies there, what has its home there, and what nobody has seen yet."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Place, Summary, Tool
from tooling.selectors import rack as drawn

pytestmark = pytest.mark.django_db
RACK = "/racks/RACK-B/"


def put_up(code, kind, parent=None, **columns):
    return Place.objects.create(code=code, name=columns.pop("name", code.title()), kind=kind, parent=parent, **columns)


@pytest.fixture
def rack(morning):
    """A rack of two shelves, the lower one cut into three bays."""
    whole = put_up("RACK-B", "rack", name="Rack B")
    lower = put_up("B-1", "shelf", whole, name="Rack B, shelf 1", height_mm=400)
    put_up("B-2", "shelf", whole, name="Rack B, shelf 2", height_mm=900)
    for bay in ("B-1-10", "B-1-2", "B-1-1"):
        put_up(bay, "bay", lower)
    return whole


def at(code):
    return Place.objects.get(code=code)


def test_bays_are_fields_of_their_shelf_in_natural_order(rack):
    [one] = drawn.racks(rack)
    assert [shelf.place.code for shelf in one.shelves] == ["B-2", "B-1"]
    assert [bay.place.code for bay in one.shelves[1].bays] == ["B-1-1", "B-1-2", "B-1-10"]
    [shelf] = drawn.racks(at("B-1"))
    assert (shelf.place.code, [row.place.code for row in shelf.shelves], shelf.is_cut) == ("B-1", ["B-1"], True)
    assert [one.place.code for one in drawn.racks(at("B-1-2"))] == ["B-1-2"]


def test_each_tool_is_drawn_as_it_is_known(rack, morning):
    mold("DECK", morning, place=at("B-2"), mass_kg=36)
    do("move", mold("TENDER", morning, place=at("B-1")), place=at("B-2"), at=ago(hours=2))
    do("lend", mold("HULL", morning, place=at("B-2")), person="Heron Spit", at=ago(hours=2))
    do("install", mold("RIM", morning, kind=Kind.INSERT, place=at("B-2")), at=ago(hours=1), mold=at_work("DECK"))
    [one] = drawn.racks(rack)
    upper, lower = one.shelves
    assert [(lies.tool.code, lies.how) for lies in upper.drawn] == [
        ("DECK", "told"), ("TENDER", "here"), ("HULL", "gone"), ("RIM", "gone"),
    ]  # fmt: skip
    assert [(lies.tool.code, lies.how) for lies in lower.drawn] == [("TENDER", "gone")]
    assert [lies.how for lies in drawn.racks(rack, met={at_work("DECK").pk})[0].shelves[0].here] == ["here", "unmet"]


def at_work(code):
    return Tool.objects.get(code=code)


def test_the_page_says_mass_and_where_what_is_missing_lies(sign_in, rack, morning):
    mold("DECK", morning, place=at("B-1-2"), mass_kg=36, length_mm=5000, height_mm=300)
    do("move", mold("TENDER", morning, place=at("B-1")), place=at("B-2"), at=ago(hours=2))
    do("lend", mold("HULL", morning, place=at("B-2")), person="Heron Spit", at=ago(hours=2))
    do("install", mold("RIM", morning, kind=Kind.INSERT, place=at("B-2")), at=ago(hours=1), mold=at_work("DECK"))
    text = sign_in("reader", units="us").get(RACK).text
    for words in (
        "79\N{NO-BREAK SPACE}lb, not seen yet", "home: Rack B, shelf 1", "not here: Rack B, shelf 2",
        "not here: lent to Heron Spit", "not here: in DECK", 'href="/racks/B-1-2/"',
        '<svg width="15em" height="0.9em"', "3 tools are drawn without their size", "and 1 tool without a mass",
    ):  # fmt: skip
        assert words in text, words


def test_a_room_has_no_uprights_and_what_is_outside_is_not_in_the_house(sign_in, morning):
    hall = put_up("HALL", "room")
    put_up("OVEN", "oven", hall)
    put_up("OUT", "outside")
    client = sign_in("reader")
    assert 'class="rack on-floor"' in client.get("/racks/HALL/").text
    assert "OVEN</span></p>" in client.get("/racks/HALL/").text
    put_up("KILN", "oven", hall)
    assert "KILN</span> · oven" in client.get("/racks/HALL/").text
    assert "What lies here is not in the house." in client.get("/racks/OUT/").text


def laden(rack, tools):
    """So many tools on the shelves and in the bays of a rack, each with its summary, as a list would find them."""
    places = [at(code) for code in ("B-2", "B-1-1", "B-1-2", "B-1-10")]
    made = Tool.objects.bulk_create(
        Tool(code=f"TOOL-{n:04}", kind="mold", name="x", mass_kg=20, length_mm=900 + n, height_mm=300)
        for n in range(tools)
    )
    Summary.objects.bulk_create(
        Summary(tool=tool, home=places[n % 4], seen_at=ago(days=1), seen_place=places[(n + (n % 10 == 0)) % 4])
        for n, tool in enumerate(made)
    )


def asked(client):
    with CaptureQueriesContext(
        connection,
    ) as found:
        page = client.get(RACK)
    return page, len(found)


def test_five_hundred_tools_are_drawn_in_as_many_queries_as_two_and_in_150_kb(sign_in, rack):
    client = sign_in("reader")
    laden(rack, 2)
    _page, few = asked(client)
    Summary.objects.all().delete()
    Tool.objects.all().delete()
    laden(rack, 500)
    page, many = asked(client)
    assert (few, many) == (15, 15)
    assert page.text.count("<use ") > 500
    assert len(page.getvalue()) < 150_000
