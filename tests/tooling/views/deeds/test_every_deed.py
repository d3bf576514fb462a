"""What holds for every deed: twice is harmless, opening writes nothing, hands and times, what was typed stays."""

import re
from datetime import UTC, datetime
from uuid import uuid4

import pytest
import time_machine
from django.test import Client

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Person

pytestmark = [pytest.mark.django_db, pytest.mark.both]
# name of the address: what is filled in, something else instead, and the kind that it writes
DEEDS = {
    "lay_up": ({"serial": "X-1"}, {"serial": "X-2"}, "lay_up"),
    "pulled": ({"came_off": "free"}, {"came_off": "stuck"}, "pull"),
    "lay_up_done": ({"note": "by two"}, {"note": "by one"}, "lay_up_done"),
    "abandoned": ({"reason": "power cut"}, {"reason": "bag burst"}, "abandoned"),
    "coat": ({"what": "coat"}, {"what": "coat", "count": "2"}, "coat"),
    "film": ({}, {"lot": "7"}, "film"),
    "strip": ({"area": "whole"}, {"area": "spot"}, "strip"),
    "hold": ({"words": "chip"}, {"words": "crack"}, "hold"),
    "looked_at": ({"passed": "yes"}, {"passed": "no"}, "inspected"),
}
each_deed = pytest.mark.parametrize("name", DEEDS)


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def count():
    return Entry.objects.count()


@each_deed
def test_opening_the_page_writes_nothing(client, name):
    before = count()
    page = client.get(f"/tools/deck-2a/{name.replace('_', '-')}/")
    assert page.status_code == 200
    assert page.text.count("<h1") == 1
    assert 'name="token"' in page.text
    assert "no-store" in page["Cache-Control"]
    assert count() == before


@each_deed
def test_sent_twice_it_is_written_once(send, name):
    typed, _other, kind = DEEDS[name]
    token, before = uuid4(), count()
    first = send(name, token=token, **typed)
    again = send(name, token=token, **typed)
    assert (first.status_code, again.status_code, again.url) == (302, 302, first.url)
    assert count() == before + 1
    assert Entry.objects.last().kind == kind


@each_deed
def test_the_same_form_with_something_else_in_it_is_a_conflict(send, name):
    typed, other, _kind = DEEDS[name]
    token, before = uuid4(), count()
    send(name, token=token, **typed)
    answer = send(name, token=token, anyway="yes", **other)
    assert answer.status_code == 409
    assert 'href="/tools/DECK-2A/"' in answer.text
    assert count() == before + 1


@each_deed
def test_a_form_without_its_token_writes_nothing_and_gets_a_new_one(client, name):
    typed, _other, _kind = DEEDS[name]
    before = count()
    for token in ("", "no-uuid", "0" * 400, "\x00"):
        answer = client.post(f"/tools/DECK-2A/{name.replace('_', '-')}/", {**typed, "token": token})
        assert "send it again" in answer.text
        assert str(answer.context["form"]["token"].value()) not in ("", token)
    assert count() == before


@each_deed
def test_a_station_asks_whose_hands_and_keeps_nobody(client, send, station, hand, name):
    typed, _other, _kind = DEEDS[name]
    client.force_login(station)
    page = client.get(f"/tools/DECK-2A/{name.replace('_', '-')}/")
    assert "Whose hands?" in page.text
    before = count()
    assert errors(send(name, **typed)) == {"by": ["Whose hands were it?"]}
    assert count() == before
    named = Person.objects.named("Mara")
    assert send(name, by=named.pk, **typed).status_code == 302
    entry = Entry.objects.last()
    assert (entry.by, entry.recorded_by) == (named, station)
    assert page.context["form"]["by"].value() is None


@pytest.mark.parametrize("role", ["station", "reader"])
def test_a_station_or_a_reader_has_no_hands(client, send, request, lead, role):
    other = request.getfixturevalue(role)
    client.force_login(lead)
    assert errors(send("strip", by=other.pk)) == {"by": ["Choose one of the names."]}


def test_a_lead_may_name_another_and_a_hand_may_not(client, send, hand, lead):
    send("strip", by=lead.pk)
    assert Entry.objects.last().by == hand
    client.force_login(lead)
    assert client.get("/tools/DECK-2A/strip/").context["form"]["by"].value() == lead.pk
    send("strip", by=hand.pk)
    entry = Entry.objects.last()
    assert (entry.by, entry.recorded_by) == (hand, lead)


@pytest.mark.parametrize(
    ("typed", "utc"),
    [
        ({"at": "earlier", "at_time": "07:30"}, datetime(2026, 7, 8, 6, 30, tzinfo=UTC)),
        ({"at": "yesterday", "at_time": "7.45"}, datetime(2026, 7, 7, 6, 45, tzinfo=UTC)),
        ({"at": "exact", "at_exact": "2026-07-01T15:00"}, datetime(2026, 7, 1, 14, tzinfo=UTC)),
        ({"at": "exact", "at_exact": "2026-01-01T15:00"}, datetime(2026, 1, 1, 15, tzinfo=UTC)),
        ({"at": "now", "at_time": "07:30"}, datetime(2026, 7, 8, 12, tzinfo=UTC)),
    ],
)
def test_times_are_those_of_the_shop(client, send, typed, utc):
    with time_machine.travel("2026-07-08T12:00:00Z", tick=False):
        assert send("film", **typed).status_code == 302
    assert Entry.objects.last().at == utc


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"at": "earlier", "at_time": "18:00"}, "at_time", "still to come"),
        ({"at": "earlier", "at_time": ""}, "at_time", "At what time?"),
        ({"at": "yesterday", "at_time": "25:00"}, "at_time", "Write the time as"),
        ({"at": "exact", "at_exact": ""}, "at_exact", "Say the day"),
        ({"at": "exact", "at_exact": "2026-07-09T10:00"}, "at_exact", "still to come"),
        ({"at": "exact", "at_exact": "2026-03-29T01:30"}, "at_exact", "clocks jump"),
        ({"at": "exact", "at_exact": "yesterday-ish"}, "at_exact", "is no time"),
        ({"at": "exact", "at_exact": "9999-12-31T23:59-12:00"}, "at_exact", "Check the year"),
        ({"at": "exact", "at_exact": "9999-12-31T23:59"}, "at_exact", "Check the year"),
        ({"at": "exact", "at_exact": "0001-01-01T00:00"}, "at_exact", "Check the year"),
        ({"at": "never"}, "at", "Choose one of those offered"),
    ],
)
def test_a_time_that_cannot_be_is_said_at_its_field(client, send, typed, field, words):
    before = count()
    with time_machine.travel("2026-07-08T12:00:00Z", tick=False):
        answer = send("film", lot="tin 14", **typed)
    assert words in errors(answer)[field][0]
    assert "tin 14" in answer.text
    assert count() == before


def test_a_page_that_was_open_too_long_keeps_what_was_typed(hand):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(hand)
    typed = {"token": uuid4(), "lot": "tin <14>", "csrfmiddlewaretoken": "stale"}
    own = {"HTTP_ORIGIN": "http://testserver"}
    answer = strict.post("/tools/DECK-2A/film/", typed, **own)
    assert answer.status_code == 403
    assert 'name="lot" value="tin &lt;14&gt;"' in answer.text
    assert "stale" not in answer.text
    assert f"Sent once more, it is written as by {hand.name}." in answer.text
    elsewhere = strict.post("/tools/DECK-2A/film/", typed, HTTP_ORIGIN="https://elsewhere.example")
    assert not re.search(r"\btin\b", elsewhere.text)  # as a word: "settings" has it too


def test_the_strip_of_tape_says_what_the_rules_say_of_it(client, send, shop):
    happened.hold(shop.mold, reason="chip")
    send("lay_up", anyway="happened", seen="held DECK-2A")
    page = client.get("/tools/DECK-2A/").text
    assert "It was used while it was held." in page


@pytest.mark.parametrize("address", ["/t/DECK-2A/", "/t/deck-2a/", "/T/DECK-2A/", "/t/OLD/DECK/", "/t/old/deck/"])
def test_a_tag_leads_to_the_tool_after_signing_in_too(client, shop, hand, address):
    shop.mold.aliases.create(code="OLD/DECK")
    assert client.get(address).url == "/tools/DECK-2A/"
    stranger = Client()
    door = stranger.get(address)
    assert door.url.startswith("/sign-in/?next=")
    entered = stranger.post(door.url, {"username": hand.name, "password": "long enough for a test"})
    assert stranger.get(entered.url).url == "/tools/DECK-2A/"


def test_a_tag_that_nobody_knows_says_what_to_do(client):
    for code in ("DECK-2B", "DECK-2A%00", "x" * 900, "..", "💥"):
        answer = client.get(f"/t/{code}/")
        assert answer.status_code == 404
        assert answer.text.count("<h1") == 1
