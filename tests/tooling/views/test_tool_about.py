"""The tool's page: its history by year and kind, and its next look-over."""

from datetime import date

import pytest

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Shop
from tooling.selectors.timeline import GROUPS

pytestmark = pytest.mark.django_db


@pytest.fixture
def see(client, reader, morning):
    client.force_login(reader, backend="shared.access.RoleBackend")
    return lambda **query: client.get("/tools/DECK/", query)


def kinds(reply):
    return [line.entry.kind for line in reply.context["lines"]]


def test_the_history_is_seen_by_kind_and_year(see, morning):
    deck = mold("DECK", morning, pulls=2)
    do("take_note", deck, at=ago(days=300), note="old.")
    assert kinds(see()) == ["pull", "pull", "coat", "note"]
    assert kinds(see(entries="pulls")) == ["pull", "pull"]
    assert kinds(see(entries="coats")) == ["coat"]
    assert kinds(see(entries="rest", year="2025")) == ["note"]
    assert kinds(see(year="2026")) == ["pull", "pull", "coat"]
    empty = see(entries="pulls", year="2025")
    assert "Nothing of this kind in this time." in empty.text
    assert 'href="?entries=pulls#history"' in empty.text
    assert 'href="?entries=coats&amp;year=2025#history"' in empty.text


def test_the_years_are_those_of_the_shop(see, morning):
    Shop.objects.update(time_zone="Asia/Tokyo")
    deck = mold("DECK", morning, pulls=None)
    do("take_note", deck, at=NOW.replace(year=2025, month=12, day=31, hour=23, minute=30), note="n")
    assert see().context["page"].history.years == [2026]
    assert kinds(see(year="2026")) == ["note"]
    assert kinds(see(year="2025")) == []


@pytest.mark.parametrize(
    "query",
    [{"entries": "x"}, {"entries": "\x00"}, {"year": "0"}, {"year": "9999"}, {"year": "1"}, {"year": "-5"},
     {"year": "²"}, {"year": "99999999999"}, {"older": "0", "year": ""}],
)  # fmt: skip
def test_nonsense_asks_for_nothing(see, morning, query):
    mold("DECK", morning, pulls=1)
    assert kinds(see(**query)) == ["pull", "coat"]


def test_no_kind_of_entry_is_in_two_groups():
    every = [kind for group in GROUPS.values() for kind in group]
    assert len(every) == len(set(every))


def test_a_look_over_is_counted_in_pulls_and_days(see, lead, morning):
    deck = mold("DECK", morning, pulls=3, inspect_every_pulls=5, inspect_every_days=20, built_on=date(2026, 5, 1))
    assert "after 2 more pulls, 21 May at the latest" in see().text
    do("inspect", deck, lead, passed=True, at=ago(minutes=30))
    assert "after 5 more pulls, 1 June at the latest" in see().text
    do("log_pull", deck, at=ago(minutes=10), count=5)
    assert "<b>wanted now</b>" in see().text


def test_a_day_that_is_over_is_wanted_now_and_none_is_said_where_none_is_asked(see, morning):
    mold("DECK", morning, inspect_every_days=3, built_on=date(2026, 5, 1))
    assert "<b>wanted now</b>" in see().text
    assert "Next look-over" not in see().client.get("/tools/NONE/").text


def test_a_tool_that_has_none_says_nothing(see, morning):
    mold("DECK", morning)
    assert "Next look-over" not in see().text
    assert "Parts it serves" not in see().text
