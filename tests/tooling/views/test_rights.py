"""Rights on screen: given, ended, asked for another day."""

from datetime import timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Right, Shop
from tooling.services.rights import give

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client, lead, shop):
    client.force_login(lead)
    Shop.objects.update(formal_records=True)
    return client


def page_of(person):
    return f"/people/{person.pk}/rights/"


def test_a_lead_gives_one_and_ends_it(desk, hand, lead):
    today = now().date()
    sent = {"do": "give", "may": "free", "since": today.isoformat(), "until": ""}
    assert desk.post(page_of(hand), sent).url == page_of(hand)
    right = Right.objects.get()
    assert (right.person, right.may, right.until, right.given_by) == (hand, "free", None, lead)
    assert "Free a held tool" in desk.get(f"/people/{hand.pk}/").text
    last = today + timedelta(days=3)
    desk.post(page_of(hand), {"do": f"end-{right.pk}", f"end-{right.pk}-until": last.isoformat()})
    assert Right.objects.get().until == last
    assert "Its end was said by Test lead" in desk.get(page_of(hand)).text


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [({"may": ""}, "may"), ({"since": "soon"}, "since"), ({"until": "2020-01-01"}, "until"), ({"may": "all"}, "may")],
)
def test_bad_input_gives_nothing_and_keeps_what_was_typed(desk, hand, typed, wrong):
    answer = desk.post(page_of(hand), {"do": "give", "may": "free", "since": "2026-05-01", "until": "", **typed})
    assert list(answer.context["give"].errors) == [wrong]
    assert answer.context["give"]["until"].value() == typed.get("until", "")
    assert not Right.objects.exists()


def test_the_page_says_who_may_and_who_might_that_day(desk, hand, lead):
    assert "every lead" in desk.get("/rights/").text
    assert desk.get("/rights/").text.count("No deed of the program asks for this one") == 1
    start = now().date() - timedelta(days=2)
    give(hand, "free", since=start, by=lead, at=now())
    lines = {line.may: [one for one, _days in line.people] for line in desk.get("/rights/").context["lines"]}
    assert lines["free a held tool"] == [hand]
    asked = desk.get("/rights/", {"person": hand.pk, "day": start.isoformat()}).text
    assert "Test hand might free a held tool" in asked
    assert "That was after the day that is asked about." in asked
    assert "Test lead had no right to free a held tool" in desk.get("/rights/", {"person": lead.pk}).text
    before = {"person": lead.pk, "day": (start - timedelta(days=1)).isoformat()}
    assert "by role" in desk.get("/rights/", before).text


def test_a_station_has_none_and_a_bad_day_is_said(desk, station):
    assert desk.get(page_of(station)).status_code == 404
    assert "Write the day as" in desk.get("/rights/?day=soon").text
