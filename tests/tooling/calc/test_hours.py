"""Shop hours on the time line: nights, joined windows, clock changes. All expected times are worked by hand.

Clock changes of 2025 (IANA time zone data): New York 9 March and 2 November, Berlin 30 March and 26 October at 02:00 or
03:00 by an hour; Lord Howe Island 5 October and 6 April at 02:00 by half an hour.
"""

from datetime import UTC, date, datetime, timedelta, tzinfo

import pytest

from tests.tooling.calc.clock import DAYTIME, NEW_YORK, at, clock, open_on
from tooling.calc.timeline import Infeasible, ShopHours, Step, backward, forward

EVERY_DAY = range(7)


@pytest.mark.parametrize(
    ("zone", "saturday", "ends"),
    [
        (NEW_YORK, "2025-03-08", "Sun 16:25"),
        (NEW_YORK, "2025-11-01", "Sun 14:25"),
        ("Europe/Berlin", "2025-03-29", "Sun 16:25"),
        ("Europe/Berlin", "2025-10-25", "Sun 14:25"),
        ("Australia/Lord_Howe", "2025-10-04", "Sun 15:55"),
        ("Australia/Lord_Howe", "2025-04-05", "Sun 14:55"),
        ("Australia/Lord_Howe", "2025-06-07", "Sun 15:25"),
    ],
)
def test_a_day_of_cure_over_a_clock_change(zone, saturday, ends):
    hours = open_on(("08:00", "17:00"), days=EVERY_DAY, zone=zone)
    plan = forward([Step("coat", 25, 24 * 60)], at(f"{saturday} 15:00", zone), hours)
    assert clock([plan.ends[0], plan.ready_at], zone) == ["Sat 15:25", ends]
    assert plan.ready_at - plan.ends[0] == timedelta(hours=24)
    assert backward([Step("coat", 25, 24 * 60)], plan.ready_at, hours).starts == plan.starts


@pytest.mark.parametrize(
    ("zone", "saturday", "longest"),
    [
        ("Europe/Berlin", "2025-03-29", 7 * 60),
        ("Europe/Berlin", "2025-10-25", 9 * 60),
        (NEW_YORK, "2025-03-08", 7 * 60),
        (NEW_YORK, "2025-11-01", 9 * 60),
        ("Australia/Lord_Howe", "2025-10-04", 7.5 * 60),
        ("Australia/Lord_Howe", "2025-04-05", 8.5 * 60),
    ],
)
def test_a_night_shift_is_an_hour_shorter_or_longer(zone, saturday, longest):
    # 22:00 to 06:00 is eight hours on any other night
    nights = open_on(("22:00", "06:00"), days=[5], zone=zone)
    start = at(f"{saturday} 12:00", zone)
    fits = forward([Step("strip", longest)], start, nights)
    assert clock([fits.starts[0], fits.ends[0]], zone) == ["Sat 22:00", "Sun 06:00"]
    assert (
        backward([Step("strip", longest)], at(f"{saturday} 12:00", zone) + timedelta(days=2), nights).starts
        == fits.starts
    )
    # a minute more goes into the first longer night, and where there is none in a year nowhere
    if longest <= 480:
        assert forward([Step("strip", longest + 1)], start, nights).starts[0] > fits.ends[0]
    else:
        with pytest.raises(Infeasible, match="never open for longer"):
            forward([Step("strip", longest + 1)], start, nights)


@pytest.mark.parametrize(
    ("windows", "day", "opens", "closes"),
    [
        # 02:30 does not exist on that night: the clock goes from 02:00 to 03:00
        (("02:30", "03:15"), "2025-03-30", "Sun 03:00", "Sun 03:15"),
        (("01:00", "02:30"), "2025-03-30", "Sun 01:00", "Sun 03:00"),
        # 02:30 comes twice: the first counts
        (("02:30", "03:15"), "2025-10-26", "Sun 02:30", "Sun 03:15"),
        (("01:00", "02:30"), "2025-10-26", "Sun 01:00", "Sun 02:30"),
    ],
)
def test_a_window_that_begins_or_ends_in_the_change(windows, day, opens, closes):
    hours = open_on(windows, days=[6], zone="Europe/Berlin")
    begin, end = at(f"{day} 00:00", "Europe/Berlin"), at(f"{day} 12:00", "Europe/Berlin")
    assert clock([hours.open_from(begin)], "Europe/Berlin") == [opens]
    assert clock(backward([Step("look", 1)], end, hours).ends, "Europe/Berlin") == [closes]


def test_the_hour_that_comes_twice_is_worked_twice():
    hours = open_on(("02:30", "03:15"), days=[6], zone="Europe/Berlin")
    plan = forward([Step("strip", 105)], at("2025-10-25 12:00", "Europe/Berlin"), hours)
    # first 02:30 to 03:00, then 02:00 to 03:00 again, then to 03:15
    assert plan.ends[0] - plan.starts[0] == timedelta(minutes=105)
    assert plan.ends[0] == at("2025-10-26 03:15", "Europe/Berlin")


def test_a_window_over_midnight_belongs_to_the_day_on_which_it_opens():
    friday = open_on(("18:00", "02:00"), days=[4])
    coats = [Step("coat", 60, 120)] * 3
    # Friday 18:00, 21:00, then 24:00 to 01:00 on Saturday
    assert clock(forward(coats, at("2025-06-06 08:00"), friday).starts) == ["Fri 18:00", "Fri 21:00", "Sat 00:00"]
    shut = open_on(("18:00", "02:00"), days=[4], closed=(date(2025, 6, 7),))
    assert clock(forward(coats, at("2025-06-06 08:00"), shut).starts)[-1] == "Sat 00:00"
    shut = open_on(("18:00", "02:00"), days=[4], closed=(date(2025, 6, 6),))
    assert forward(coats, at("2025-06-06 08:00"), shut).starts[0] == at("2025-06-13 18:00")


def test_windows_that_touch_are_one():
    halves = open_on(("08:00", "12:00"), ("12:00", "17:00"))
    assert clock(forward([Step("strip", 540)], at("2025-06-02 08:00"), halves).starts) == ["Mon 08:00"]
    over_midnight = open_on(("20:00", "24:00"), ("00:00", "06:00"), days=EVERY_DAY)
    assert clock(forward([Step("strip", 600)], at("2025-06-02 08:00"), over_midnight).starts) == ["Mon 20:00"]
    always = open_on(("00:00", "24:00"), days=EVERY_DAY)
    assert clock(forward([Step("walk", 5000)], at("2025-06-02 08:00"), always).starts) == ["Mon 08:00"]
    assert clock(backward([Step("walk", 5000)], at("2025-06-02 08:00"), always).ends) == ["Mon 08:00"]


def test_the_shop_opens_now_or_next():
    assert clock([DAYTIME.open_from(at("2025-06-02 08:00"))]) == ["Mon 08:00"]
    assert clock([DAYTIME.open_from(at("2025-06-06 17:00"))]) == ["Mon 08:00"]
    with pytest.raises(Infeasible, match="no hours"):
        ShopHours("UTC", {}).open_from(at("2025-06-06 17:00"))


class Counting(tzinfo):
    """UTC that counts how often it is asked."""

    asked = 0

    def utcoffset(self, _when):
        self.asked += 1
        return timedelta(0)

    def dst(self, _when):
        return timedelta(0)


def test_days_between_two_times_that_are_far_apart_are_not_laid_out():
    zone = Counting()
    hours = ShopHours(zone, {day: [("08:00", "17:00")] for day in range(5)})
    for text, opens in (
        ("2025-06-02 07:00", "Mon 08:00"),
        ("2199-06-01 07:00", "Mon 08:00"),
        ("2025-06-07", "Mon 08:00"),
    ):
        assert clock([hours.open_from(at(text, "UTC"))], "UTC") == [opens]
    assert zone.asked < 1000


def test_at_the_end_of_the_calendar_the_shop_is_closed():
    with pytest.raises(Infeasible, match="no hours"):
        DAYTIME.open_from(datetime.max.replace(tzinfo=UTC))
    assert DAYTIME.open_between(at("9999-12-20 08:00"), datetime.max.replace(tzinfo=UTC))
    with pytest.raises(Infeasible, match="no hours"):
        backward([Step("look", 1)], datetime.min.replace(tzinfo=UTC), DAYTIME)


@pytest.mark.parametrize(
    ("week", "says"),
    [
        ({7: [("08:00", "17:00")]}, "7 is no day of a week"),
        ({0: [("8", "17:00")]}, "'8' is no time of day"),
        ({0: [("08:00", "24:30")]}, "'24:30' is no time of day"),
        ({0: [("08:00", "08:00")]}, "it has to open before it closes"),
        ({0: [("24:00", "08:00")]}, "it has to open before it closes"),
    ],
)
def test_impossible_hours_are_refused(week, says):
    with pytest.raises(ValueError, match=says):
        ShopHours(NEW_YORK, week)


@pytest.mark.parametrize("zone", ["Europe/Atlantis", "", "../etc/passwd"])
def test_an_unknown_zone_is_refused(zone):
    with pytest.raises(ValueError, match="is no time zone"):
        ShopHours(zone, {})


def test_what_is_open_between_two_moments_is_cut_to_them():
    found = DAYTIME.open_between(at("2025-06-06 12:00"), at("2025-06-09 09:30"))
    assert [clock(window) for window in found] == [["Fri 12:00", "Fri 17:00"], ["Mon 08:00", "Mon 09:30"]]
    assert DAYTIME.open_between(at("2025-06-06 17:00"), at("2025-06-09 08:00")) == []
