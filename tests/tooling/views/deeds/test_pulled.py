"""A part comes off: two taps, and what is seen of it."""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared import clock
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Summary

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def pulls(tool):
    return Summary.objects.get(tool=tool).total_pulls


def standing(kind="pull"):
    return Entry.objects.get(kind=kind, voided_by=None, replaced_by=None)


def test_part_and_serial_are_those_that_were_laid_up(client, shop):
    happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")
    page = client.get("/tools/DECK-2A/pulled/")
    assert page.context["form"]["serial"].value() == "0173"
    assert page.text.count('class="mark-deed"') == 5


def test_one_tap_writes_it_and_the_next_page_shows_it(client, send, shop):
    answer = send("pulled", came_off="stuck", serial="0173")
    entry = standing()
    assert answer.url == f"/tools/DECK-2A/entries/{entry.number}/seen/"
    page = client.get(answer.url)
    assert "Is the mold marked?" in page.text
    assert "Not looked: it is held" in page.text
    assert (pulls(shop.mold), pulls(shop.insert)) == (1, 1)


def test_the_page_says_when_it_may_come_out_and_how_it_is_lifted(client, shop):
    shop.mold.lift = "trolley and two"
    shop.mold.save()
    at = clock.now()
    happened.lay_up(shop.mold, earliest_pull=at + timedelta(hours=2))
    page = client.get("/tools/DECK-2A/pulled/").text
    assert "Not before" in page
    assert "Time is up" not in page
    assert page.index("Lift: trolley and two.") < page.index('class="mark-deed"')
    with time_machine.travel(at + timedelta(hours=3), tick=False):
        assert "<b>Time is up: check it is hard.</b>" in client.get("/tools/DECK-2A/pulled/").text


def test_without_a_mark_nothing_is_written(send):
    answer = send("pulled", serial="0173")
    assert errors(answer) == {"came_off": ["Tap how it came off."]}
    assert "0173" in answer.text
    assert not Entry.objects.filter(kind="pull").exists()


def test_what_is_seen_stands_in_one_entry_with_the_pull(send, shop):
    send("pulled", came_off="tight")
    number = standing().number
    seen = {"fault": "drag", "cause": "temperature", "surface": "HATCH7", "part_damaged": "on"}
    assert send("seen", number=number, **seen).url == "/tools/DECK-2A/"
    entry = standing()
    assert entry.replaces.number == number
    assert entry.came_off == "tight"
    said = {name: entry.payload.get(name) for name in ("fault", "cause", "surface", "part_damaged")}
    assert said == {"fault": "drag", "cause": "temperature", "surface": shop.insert.pk, "part_damaged": True}
    assert pulls(shop.mold) == 1


def test_nothing_seen_writes_nothing(send):
    send("pulled", came_off="free")
    count = Entry.objects.count()
    assert send("seen", number=standing().number).status_code == 302
    assert Entry.objects.count() == count


def test_the_wrong_mark_is_put_right_with_a_tap(send):
    send("pulled", came_off="lost")
    answer = send("seen", number=standing().number, came_off="light")
    assert answer.url.endswith(f"/{standing().number}/seen/")
    assert standing().came_off == "light"


@pytest.mark.parametrize(("looked", "held", "says"), [("yes", True, True), ("no", False, False)])
def test_a_marked_mold_is_held(send, shop, looked, held, says):
    send("pulled", came_off="stuck")
    send("seen", number=standing().number, looked=looked)
    assert standing().payload["tool_damaged"] is says
    assert (Summary.objects.get(tool=shop.mold).held_since is not None) is held


def test_not_looked_holds_it_and_does_not_say_that_it_is_marked(send, shop):
    send("pulled", came_off="stuck")
    token = uuid4()
    for _ in range(2):
        assert send("seen", number=standing().number, token=token, looked="not_looked").status_code == 302
    assert "tool_damaged" not in standing().payload
    assert "not looked at yet" in standing("hold").payload["reason"]


@pytest.mark.parametrize("typed", [{}, {"fault": "drag"}, {"looked": "not_looked"}])
def test_left_open_it_counts_as_not_looked(client, send, shop, typed):
    answer = send("pulled", came_off="stuck")
    assert Summary.objects.get(tool=shop.mold).held_since is not None
    assert client.get(answer.url).context["form"]["looked"].value() == "not_looked"
    send("seen", number=standing().number, **typed)
    assert "not looked at yet" in standing("hold").payload["reason"]


def test_the_strip_speaks_of_the_pull_and_its_hold(client, send):
    send("pulled", came_off="stuck")
    strip = client.get("/tools/DECK-2A/").context["written"]
    assert (strip.entry.kind, strip.tape_a_cross) == ("pull", True)
    assert send("rub_out", number=standing("hold").number).status_code == 302
    assert standing("hold")
    send("rub_out", number=standing().number)
    assert not Entry.objects.filter(kind__in=("pull", "hold")).standing()


def test_a_cross_is_wanted_until_a_marked_tool_is_freed(client, send, shop):
    send("pulled", came_off="stuck")
    send("seen", number=standing().number, looked="yes")
    strip = client.get("/tools/DECK-2A/").context["written"]
    assert (strip.entry.kind, strip.held, strip.tape_a_cross) == ("pull", False, True)
    happened.inspect(shop.mold, passed=True)
    assert not client.get("/tools/DECK-2A/").context["written"].tape_a_cross


def test_another_mark_leaves_the_question_open(send):
    send("pulled", came_off="lost")
    send("seen", number=standing().number, came_off="stuck", looked="not_looked")
    assert standing().payload["why"] == "tapped wrong"
    assert standing("hold")
    send("seen", number=standing().number, came_off="light", looked="not_looked")
    assert not Entry.objects.filter(kind="hold").standing()


def test_what_was_seen_in_time_is_answered_the_same_later(send):
    send("pulled", came_off="stuck")
    number = standing().number
    for typed in ({"fault": "drag", "looked": "no"}, {"looked": "not_looked"}):
        token = uuid4()
        with time_machine.travel(clock.now(), tick=False) as later:
            assert send("seen", number=number, token=token, **typed).status_code == 302
            later.shift(timedelta(minutes=6))
            count = Entry.objects.count()
            assert send("seen", number=number, token=token, **typed).status_code == 302
            assert Entry.objects.count() == count
        number = standing().number


def test_only_a_pull_is_seen(client, send, shop):
    happened.hold(shop.mold, reason="chip")
    number = Entry.objects.get(kind="hold").number
    assert send("seen", number=number, fault="drag").status_code == 404
    assert client.get(f"/tools/DECK-2A/entries/{number}/seen/").status_code == 404


def test_a_late_pull_says_when_it_came_off(client, send):
    with time_machine.travel("2026-07-08T12:00:00Z", tick=False):
        answer = send("pulled", came_off="free", at="yesterday", at_time="17:00")
        for address in (answer.url, "/tools/DECK-2A/"):
            text = " ".join(re.sub(r"<[^>]+>", "", client.get(address).text).split())
            assert "It came off yesterday 17:00." in text


def test_more_is_said_only_by_whoever_wrote_it_and_soon(client, send, shop, lead):
    send("pulled", came_off="tight")
    number = standing().number
    with time_machine.travel(clock.now() + timedelta(minutes=6), tick=False):
        assert client.get(f"/tools/DECK-2A/entries/{number}/seen/").status_code == 302
        assert send("seen", number=number, fault="drag").status_code == 200
    client.force_login(lead)
    assert send("seen", number=number, fault="drag").status_code == 200
    assert not Entry.objects.exclude(replaces=None).exists()


def test_several_cavities_are_one_entry(send, shop):
    send("pulled", came_off="light", count="3")
    assert (standing().count, pulls(shop.mold)) == (3, 3)


def test_a_pull_says_no_more_than_was_said(send):
    send("pulled", came_off="free")
    assert standing().payload.keys() == {"asked"}
