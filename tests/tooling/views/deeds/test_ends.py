"""Lay-up done and given up, on a mold by itself and on both halves of a matched set."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Kind, Summary, Tool
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
DONE, GIVEN_UP = "/tools/DECK-2A/lay-up-done/", "/tools/DECK-2A/abandoned/"


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


@pytest.fixture
def begun(shop):
    start = clock.now() - timedelta(hours=3)
    return happened.lay_up(shop.mold, part="SK520-DECK", serial="7", at=start, earliest_pull=timedelta(hours=5))


@pytest.fixture
def pair(shop):
    """DECK-2A and DECK-2C close on one part, which is in both."""
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    other = add_tool(code="DECK-2C", name="Other half", kind=Kind.MOLD, release_system=shop.wax, matched_set="Deck")
    halves = [Tool.objects.get(pk=shop.mold.pk), other]
    happened.lay_up_set(halves, part="SK520-DECK", serial="7", at=clock.now() - timedelta(hours=3))
    return halves


def kinds(kind):
    return [entry.tool.code for entry in Entry.objects.filter(kind=kind).standing().order_by("id")]


def test_one_tap_sets_the_earliest_pull_from_the_last_ply_on(client, send, begun):
    page = client.get(DONE).text
    assert "24 hours after the last ply" in page
    assert "SK520-DECK" in page
    send("lay_up_done")
    done = Entry.objects.get(kind="lay_up_done")
    assert done.earliest_pull - done.at == timedelta(hours=24)


def test_the_time_can_be_said_and_is_looked_at(send, begun):
    assert errors(send("lay_up_done", earliest="2001-01-01T08:00")) == {
        "earliest": ["That is before the last ply was on. Check the day."]
    }
    assert "90 days" in send("lay_up_done", earliest="2190-01-01T08:00").text
    assert "no time" in send("lay_up_done", earliest="soon").text
    send("lay_up_done", earliest=f"{clock.now() + timedelta(days=2):%Y-%m-%dT%H:%M}")
    assert Entry.objects.get(kind="lay_up_done").earliest_pull > clock.now() + timedelta(days=1)


def test_where_nobody_said_how_long_the_time_of_the_start_stays(client, send, shop):
    start = clock.now() - timedelta(hours=3)
    before = happened.lay_up(shop.mold, part="ODD", at=start, earliest_pull=timedelta(hours=9)).earliest_pull
    assert "as set at the start" in client.get(DONE).text
    send("lay_up_done")
    assert Entry.objects.get(kind="lay_up_done").earliest_pull == before


def test_given_up_empties_the_mold_and_wants_a_coat(client, send, begun):
    assert "serial 7" in client.get(GIVEN_UP).text
    assert send("abandoned", reason="the bag burst").url == "/tools/DECK-2A/"
    assert Entry.objects.get(kind="abandoned").payload["reason"] == "the bag burst"
    assert "a lay-up was given up in it" in client.get("/tools/DECK-2A/").text


def test_not_before_it_was_begun(send, begun):
    answer = send("abandoned", at="exact", at_exact="2020-01-01T08:00")
    assert list(errors(answer)) == ["at_exact"]


def test_where_nothing_is_in_it_that_is_said(client, send):
    for address in (DONE, GIVEN_UP):
        assert "It is written all the same, and flagged." in client.get(address).text
    send("abandoned")
    assert "Lay-up given up" in client.get("/tools/DECK-2A/").text


@pytest.mark.parametrize(("name", "kind"), [("abandoned", "abandoned"), ("lay_up_done", "lay_up_done")])
def test_on_one_half_it_is_written_to_both_once_and_rubbed_out_of_both(client, send, pair, name, kind):
    page = client.get(f"/tools/DECK-2A/{name.replace('_', '-')}/")
    assert "DECK-2C" in page.text
    assert "One part with DECK-2C." in client.get("/tools/DECK-2A/").text
    form, token = {"halves": page.context["form"]["halves"].value()}, uuid4()
    assert [send(name, token=token, **form).status_code for _time in range(2)] == [302, 302]
    assert kinds(kind) == ["DECK-2A", "DECK-2C"]
    assert "On DECK-2C as well" in client.get("/tools/DECK-2A/").text
    send("rub_out", number=Entry.objects.filter(tool=pair[0], kind=kind).get().number)
    assert "On DECK-2C as well" in client.get("/tools/DECK-2A/").text
    assert kinds(kind) == []


def test_only_this_half(send, pair):
    send("abandoned", halves="DECK-2C", alone="on")
    assert kinds("abandoned") == ["DECK-2A"]
    assert Summary.objects.get(tool=pair[1]).laid_up_at is not None


def test_a_half_that_stands_otherwise_by_now_is_asked_about(send, pair):
    happened.log_pull(pair[1], came_off="free")
    assert "DECK-2C stands otherwise by now" in " ".join(errors(send("abandoned", halves="DECK-2C"))["alone"])
    assert kinds("abandoned") == []
    send("abandoned", halves="NO-SUCH,COAM-TRIM,DECK-2A,,")
    assert kinds("abandoned") == ["DECK-2A"]
