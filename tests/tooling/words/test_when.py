"""Times in the shop's zone, as a person says them."""

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.tooling.words.samples import NOW, ZONE
from tooling.words.when import clock, clock_or_when, day, figure, lasting, moment, morning, when, with_dates


def at(month: int, day: int, hour: int = 15, minute: int = 10, year: int = 2026) -> datetime:
    """A time of the shop's clock."""
    return datetime(year, month, day, hour, minute, tzinfo=ZONE).astimezone(UTC)


@pytest.mark.parametrize(
    ("instant", "words"),
    [
        (at(5, 12, 16), "today 16:10"),
        (at(5, 12, 0), "today 00:10"),
        (at(5, 11), "yesterday 15:10"),
        (at(5, 13, 9), "tomorrow 09:10"),
        (at(5, 7), "Thu 15:10"),
        (at(5, 18), "Mon 15:10"),
        (at(5, 5), "5 May"),
        (at(6, 10), "10 June"),
        (at(3, 3, year=2024), "3 March 2024"),
    ],
)
def test_when(instant, words):
    assert when(instant, NOW, ZONE) == words


def test_the_day_is_that_of_the_shop_and_not_of_utc():
    just_after_midnight = datetime(2026, 5, 12, 23, 30, tzinfo=UTC)
    assert when(just_after_midnight, NOW, ZONE) == "tomorrow 00:30"


def test_today_goes_without_saying_in_a_sentence():
    assert clock_or_when(at(5, 12, 16), NOW, ZONE) == "16:10"
    assert clock_or_when(at(5, 13, 16), NOW, ZONE) == "tomorrow 16:10"
    assert clock_or_when(at(6, 10), NOW, ZONE) == "10 June 15:10"
    assert clock_or_when(at(1, 28, 8, year=2027), NOW, ZONE) == "28 January 2027 08:10"
    assert clock(at(5, 13, 16), ZONE) == "16:10"


def test_a_day_alone():
    assert day(date(2026, 6, 10), date(2026, 5, 12)) == "10 June"
    assert day(date(2026, 5, 12), date(2026, 5, 12)) == "today"


def test_on_paper_every_time_has_its_date():
    with with_dates():
        assert when(NOW, NOW, ZONE) == clock_or_when(NOW, NOW, ZONE) == f"12 May 2026, {clock(NOW, ZONE)}"
        assert day(date(2026, 5, 12), date(2026, 5, 12)) == "12 May 2026"
    assert clock_or_when(NOW, NOW, ZONE) == clock(NOW, ZONE)


def test_a_line_of_the_history_and_the_head_of_the_board():
    assert moment(at(5, 11, 15, 5), NOW, ZONE) == "Mon 11 May 15:05"
    assert moment(at(3, 3, year=2024), NOW, ZONE) == "Sun 3 Mar 2024 15:10"
    assert morning(NOW, ZONE) == "Tuesday 12 May, 07:40"


@pytest.mark.parametrize(
    ("instant", "parts"),
    [
        (at(5, 12, 16), ("16:10", "")),
        (at(5, 11, 16), ("Mon", "16:10")),
        (at(5, 1), ("1 May", "")),
        (at(11, 18, year=2025), ("18 Nov 2025", "")),
    ],
)
def test_a_key_figure(instant, parts):
    assert figure(instant, NOW, ZONE) == parts


@pytest.mark.parametrize(
    ("time", "words"),
    [
        (timedelta(minutes=1), "1 minute"),
        (timedelta(minutes=44), "44 minutes"),
        (timedelta(hours=4), "4 hours"),
        (timedelta(hours=1, minutes=30), "1 h 30 min"),
        (timedelta(hours=60), "2 days"),
        (timedelta(minutes=-5), "0 minutes"),
    ],
)
def test_how_long(time, words):
    assert lasting(time) == words
