"""Start of lay-up: go or no go, and what is written."""

from datetime import timedelta

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Flag, Summary

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/"


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def test_a_ready_mold_is_a_go(client):
    page = client.get(PAGE)
    assert page.status_code == 200
    assert page.context["stops"] == []
    assert "The mold insert in it may be used as well." in page.text
    assert "Shop temperature: not measured." in page.text


def test_one_tap_writes_the_start_with_the_time_it_may_come_out(send, hand):
    answer = send("lay_up", part_typed="SK520-DECK", serial="0173")
    assert answer.url == "/tools/DECK-2A/"
    entry = Entry.objects.get(kind="lay_up")
    assert (entry.part, entry.serial, entry.by, entry.recorded_by) == ("SK520-DECK", "0173", hand, hand)
    assert entry.earliest_pull - entry.at == timedelta(hours=26, minutes=30)
    assert Summary.objects.get(tool=entry.tool).serial == "0173"


def test_what_was_made_before_needs_no_typing(client, send, shop):
    happened.lay_up(shop.mold, part="SK520-DECK")
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
    assert 'value="SK520-DECK" checked' in client.get(PAGE).text
    send("lay_up", part="SK520-DECK")
    assert Entry.objects.filter(kind="lay_up").last().part == "SK520-DECK"


def test_every_surface_that_is_not_ready_says_what_mends_it(client, shop):
    happened.want_wax(shop.insert)
    stops = client.get(PAGE).context["stops"]
    assert [(stop.code, stop.mend, stop.deed.name) for stop in stops] == [("HATCH7", "Put on one coat.", "coat")]


def test_a_held_mold_is_not_laid_up_by_mistake(send, shop):
    happened.hold(shop.mold, reason="chip")
    answer = send("lay_up", part_typed="SK520-DECK")
    assert answer.status_code == 200
    assert answer.context["stopped"]
    assert "Not written yet" in answer.text
    assert 'value="SK520-DECK"' in answer.text
    assert not Entry.objects.filter(kind="lay_up").exists()


def test_what_has_happened_can_be_written_and_is_flagged(send, shop):
    happened.hold(shop.mold, reason="chip")
    assert send("lay_up", anyway="yes").status_code == 302
    assert "used_on_hold" in Flag.objects.filter(entry__kind="lay_up").values_list("flag", flat=True)


def test_a_part_with_a_number_of_its_own_is_judged_by_it(client, shop):
    happened.set_interval(shop.mold, count=1, part="SK520-DECK")
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
    assert [stop.status for stop in client.get(PAGE).context["stops"]] == ["needs_touch_up"]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1999-01-01T10:00", "before the lay-up starts"),
        ("2199-12-31T23:59", "90 days"),
        ("9999-12-31T23:59", "Check the year"),
        ("soon", "is no time"),
        ("0001-01-01T00:00", "Check the year"),
    ],
)
def test_an_earliest_pull_that_cannot_be_is_said_at_its_field(send, typed, words):
    answer = send("lay_up", earliest=typed, serial="0173")
    assert words in errors(answer)["earliest"][0]
    assert "0173" in answer.text
    assert not Entry.objects.filter(kind="lay_up").exists()


def test_a_tool_in_the_making_is_no_go(client, shop):
    happened.make_step(shop.mold, step="polish")
    assert [stop.status for stop in client.get(PAGE).context["stops"]] == ["making"]
