"""Putting a tool somewhere, and back home with one tap."""

import re
from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Place

pytestmark = pytest.mark.django_db
TOOL, MOVE, HOME = "/tools/DECK-2A/", "/tools/DECK-2A/move/", "/tools/DECK-2A/home/"


@pytest.fixture
def places(shop):
    """A home where it is not, and a bench where it is."""
    home = Place.objects.create(code="B-1", name="Rack B, shelf 1")
    bench = Place.objects.create(code="BENCH", name="Bench")
    happened.move(shop.mold, place=home, home=True)
    happened.move(shop.mold, place=bench)
    return home, bench


def moves():
    return Entry.objects.filter(kind="moved").count()


def test_a_stranger_and_a_reader_move_nothing(client, reader, places):
    assert client.post(HOME).url.startswith("/sign-in/")
    assert client.get(MOVE).url.startswith("/sign-in/")
    client.force_login(reader)
    assert {client.get(MOVE).status_code, client.post(MOVE).status_code, client.post(HOME).status_code} == {403}
    assert HOME not in client.get(TOOL).text
    assert moves() == 2


def test_it_goes_home_with_one_tap_and_twice_is_harmless(client, hand, shop, places):
    client.force_login(hand)
    form = client.get(TOOL).text.partition(f'action="{HOME}"')[2].partition("</form>")[0]
    tap = dict(re.findall(r'name="(token|place)" value="([^"]+)"', form))
    assert client.get(HOME).status_code == 405
    for _twice in range(2):
        assert client.post(HOME, tap).url == TOOL
    assert moves() == 3
    shop.mold.summary.refresh_from_db()
    assert shop.mold.summary.seen_place == places[0]
    assert HOME not in client.get(TOOL).text
    assert Entry.objects.filter(kind="moved").last().by == hand
    assert "Moved to Rack B, shelf 1." in client.get(TOOL).text


def test_where_the_home_changed_or_nothing_is_said_it_asks(client, hand, shop, places):
    client.force_login(hand)
    for tap in ({}, {"token": "x", "place": "B-1"}, {"token": str(uuid4()), "place": "BENCH"}):
        assert client.post(HOME, tap).url == f"{MOVE}?to=B-1"
    assert moves() == 2
    assert client.post("/tools/HATCH7/home/", {"token": str(uuid4()), "place": "B-1"}).url == "/tools/HATCH7/move/"


def test_a_station_is_asked_whose_hands(client, station, hand, send, places):
    client.force_login(station)
    assert client.post(HOME, {"token": str(uuid4()), "place": "B-1"}).url == f"{MOVE}?to=B-1"
    assert client.get(f"{MOVE}?to=B-1").context["form"]["place"].value() == places[0].pk
    assert errors(send("move", place=places[0].pk)) == {"by": ["Whose hands were it?"]}
    send("move", place=places[0].pk, by=hand.pk)
    assert Entry.objects.filter(kind="moved").last().by == hand


def test_only_a_lead_says_that_its_home_is_there(client, hand, lead, send, shop, places):
    for who, home in ((hand, places[0]), (lead, places[1])):
        client.force_login(who)
        send("move", place=places[1].pk, home="on", by=who.pk)
        shop.mold.summary.refresh_from_db()
        assert shop.mold.summary.home == home
    assert moves() == 4


@pytest.mark.parametrize("place", ["", "0", "x", "9" * 40, "\x00"])
def test_no_place_is_refused_and_moves_nothing(client, hand, send, places, place):
    client.force_login(hand)
    assert errors(send("move", place=place)).keys() == {"place"}
    assert moves() == 2


@pytest.mark.parametrize("to", ["", "NONE", "%00", "x" * 300])
def test_a_strange_proposal_is_no_harm(client, hand, places, to):
    client.force_login(hand)
    assert client.get(f"{MOVE}?to={to}").context["form"]["place"].value() is None


def test_twice_is_harmless(client, hand, send, places):
    client.force_login(hand)
    token = uuid4()
    for _twice in range(2):
        assert send("move", place=places[0].pk, token=token).url == TOOL
    assert send("move", place=places[1].pk, token=token).status_code == 409
    assert moves() == 3
