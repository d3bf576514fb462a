"""Start of lay-up on one half of a matched set: go or no-go for all of them, and all of them are started."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared import clock
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Kind, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/"


@pytest.fixture(autouse=True)
def other(shop, client, hand):
    """The other half of DECK-2A, which has a coat as well."""
    client.force_login(hand)
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    half = add_tool(code="DECK-2C", name="Other half", kind=Kind.MOLD, release_system=shop.wax, matched_set="Deck")
    happened.log_coat(half, at=clock.now() - timedelta(days=2))
    return half


def started():
    return list(Entry.objects.filter(kind="lay_up").order_by("id").values_list("tool__code", "part", "serial"))


def form_of(client, **typed):
    """What the page sends when only this was typed into it."""
    page = client.get(PAGE)
    form, seen = page.context["form"], [one.key for one in page.context["stops"]]
    return {"token": str(uuid4()), "at": "now", "halves": form["halves"].value(), "seen": seen, **typed}


def test_both_are_started_once_with_one_part_and_serial(client):
    assert "it is written there as well" in client.get(PAGE).text
    sent = form_of(client, part_typed="SK520-DECK", serial="7", anyway="happened")
    assert [client.post(PAGE, sent).status_code for _time in range(2)] == [302, 302]
    assert started() == [("DECK-2A", "SK520-DECK", "7"), ("DECK-2C", "SK520-DECK", "7")]
    assert "On DECK-2C as well" in client.get("/tools/DECK-2A/").text


def test_what_stands_against_the_other_half_is_said_and_stops_both(client, other):
    happened.hold(other, reason="chip at the stern")
    page = client.get(PAGE)
    assert "chip at the stern" in page.text
    assert {one.tool for one in page.context["stops"]} >= {"DECK-2C"}
    client.post(PAGE, form_of(client, part_typed="SK520-DECK"))
    assert started() == []


def test_only_this_half(client, other):
    happened.hold(other, reason="chip at the stern")
    client.post(PAGE, form_of(client, part_typed="SK520-DECK", alone="on", anyway="happened"))
    assert [code for code, *_ in started()] == ["DECK-2A"]


def test_where_a_part_is_in_the_other_half_only_this_one_is_started(client, other):
    happened.lay_up(other, part="SK520-DECK", serial="7")
    assert "Only this half is started." in client.get(PAGE).text
    client.post(PAGE, form_of(client, part_typed="SK520-DECK", serial="7", sure=["used 7"], anyway="happened"))
    assert [code for code, *_ in started()] == ["DECK-2C", "DECK-2A"]
