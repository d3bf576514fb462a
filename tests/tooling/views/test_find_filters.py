"""The filters of Find: each alone and two together, half words, slips, and all of them as one line."""

from datetime import date
from urllib.parse import parse_qsl

import pytest
from django.utils.html import escape

from tests.tooling.views.test_tools import TOOLS, find
from tests.tooling.views.works import ago, do, mold, recipe
from tooling.models import Kind, Place
from tooling.services.tools import add_tool

__all__ = ["find"]
pytestmark = [pytest.mark.django_db, pytest.mark.both]


def test_every_filter_and_two_of_them(find, morning):
    loft = Place.objects.create(code="LOFT", name="Loft")
    shelf = Place.objects.create(code="SHELF", name="Shelf", parent=loft)
    hall = Place.objects.create(code="HALL", name="Hall")
    plug = mold("PLUG", morning, kind=Kind.PLUG, pulls=None, owner="Björn", place=hall)
    deck = mold("DECK", morning, made_from=plug, place=shelf)
    hull = mold("HULL", recipe("SEMI"), pulls=4, made_from=plug, owner="Bjorn & Co", place=loft)
    mask = add_tool(code="MASK", kind=Kind.TRIM_MASK, name="Mask", in_making=True)
    pull = do("log_pull", deck, came_off="free", part="Sk520-deck", at=ago(hours=1))
    do("hold", hull, reason="chip")
    do("move", hull, place=hall)
    do("retire", plug)
    for query, found in (
        ({"kind": "mold"}, ["DECK", "HULL"]),
        ({"state": "ready"}, ["DECK"]),
        ({"state": "making"}, ["MASK"]),
        ({"place": "LOFT"}, ["DECK"]),
        ({"place": "HALL"}, ["HULL", "PLUG"]),
        ({"part": "SK520-DECK"}, ["DECK"]),
        ({"recipe": "SEMI"}, ["HULL"]),
        ({"owner": "björn"}, ["PLUG"]),
        ({"owner": "BJO"}, ["HULL", "PLUG"]),
        ({"part": "520-d"}, ["DECK"]),
        ({"made_from": "plu"}, ["DECK", "HULL"]),
        ({"made_from": "plug"}, ["DECK", "HULL"]),
        ({"held": "yes"}, ["HULL"]),
        ({"held": "no"}, ["DECK", "MASK", "PLUG"]),
        ({"home": "no"}, ["HULL"]),
        ({"home": "yes"}, ["DECK", "MASK", "PLUG"]),
        ({"retired": "yes"}, ["PLUG"]),
        ({"retired": "no"}, ["DECK", "HULL", "MASK"]),
        ({"retired": "no", "place": "HALL", "q": "hull"}, ["HULL"]),
        ({"kind": "plug", "state": "ready"}, []),
    ):
        assert find(**query) == found, query
    do("void", pull, reason="slip")
    assert find(part="SK520-DECK") == []
    assert mask.kind == Kind.TRIM_MASK


@pytest.mark.parametrize(
    "query", [{"kind": "boat"}, {"place": "NO"}, {"recipe": "X"}, {"part": "\x00"}, {"sort": "age"}]
)
def test_a_filter_that_cannot_be_is_said_and_finds_nothing(client, find, query):
    add_tool(code="M-1", kind=Kind.MOLD, name="Deck")
    reply = client.get(TOOLS, query)
    assert reply.status_code == 200
    assert reply.context["form"].errors
    assert "Nothing was searched." in reply.text
    assert client.get("/tools.csv", query).status_code == 302
    assert "Nothing was searched." in client.get(TOOLS, {**query, "q": "deck"}).text


def test_a_slip_in_a_written_filter_is_asked_about(client, find, morning, monkeypatch):
    deck = mold("DECK", morning, owner="Ærø Boats")
    do("log_pull", deck, came_off="free", part="SK520-DECK", at=ago(hours=1))
    for query, near in (({"part": "SK250-DECK"}, "SK520-DECK"), ({"owner": "aero boast", "q": "x"}, "Ærø Boats")):
        reply = client.get(TOOLS, query)
        assert reply.context["shown"] == []
        (name,) = {"part", "owner"} & set(query)
        ((one, address),) = reply.context["meant"]
        assert (one, dict(parse_qsl(address.partition("?")[2]))) == (near, {**query, name: near})
        assert "Did you mean" in reply.text
    monkeypatch.setattr("tooling.forms.tools.MANY", 0)
    assert find(part="sk") == ["DECK"]
    assert "Part: many have that in them. Write more of it." in client.get(TOOLS, {"part": "sk"}).text


@pytest.mark.parametrize(
    ("query", "line"),
    [
        ({}, "All tools"),
        ({"kind": "mold", "part": "SK520", "sort": "name"}, "Molds, for SK520, in the order of name"),
        ({"held": "yes", "owner": "<b>", "state": "bogus"}, "All tools, bogus, owned by <b>, held"),
    ],
)
def test_the_filters_are_one_line_as_well(client, find, query, line):
    for headers in ({}, {"HX-Request": "true"}):
        reply = client.get(TOOLS, query, headers=headers)
        assert f">{escape(line)}</span>" in reply.text
        assert ("hx-swap-oob" in reply.text) == bool(headers)


def test_those_that_want_a_look_over(find, morning):
    mold("PULLS", morning, pulls=2, inspect_every_pulls=2)
    mold("DAYS", morning, inspect_every_days=1, built_on=date(2026, 5, 11))
    mold("NOT", morning, pulls=1, inspect_every_pulls=2)
    assert find(state="look") == ["DAYS", "PULLS"]
