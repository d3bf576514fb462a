"""Steps laid out in shop hours. Source of every expected time: worked by hand, with the working beside it."""

from datetime import date, timedelta

import pytest

from tests.tooling.calc.clock import DAYTIME, at, clock, open_on
from tooling.calc.timeline import Infeasible, ShopHours, Step, backward, forward

# Five coats of 20 minutes, an hour between, twelve hours to cure
FIVE = [Step("coat", 20, 60)] * 4 + [Step("coat", 20, 12 * 60)]


def test_five_coats_from_monday_morning():
    plan = forward(FIVE, at("2025-06-02 08:00"), DAYTIME)
    # 20 of work and 60 of waiting: a coat every 80 minutes; 13:20 + 0:20 + 12:00
    assert clock(plan.starts) == ["Mon 08:00", "Mon 09:20", "Mon 10:40", "Mon 12:00", "Mon 13:20"]
    assert clock([plan.ends[-1], plan.ready_at]) == ["Mon 13:40", "Tue 01:40"]


def test_five_coats_from_friday_noon_go_over_the_weekend():
    plan = forward(FIVE, at("2025-06-06 13:00"), DAYTIME)
    # the fourth would begin at 17:00, when the shop closes
    assert clock(plan.starts) == ["Fri 13:00", "Fri 14:20", "Fri 15:40", "Mon 08:00", "Mon 09:20"]
    assert clock([plan.ready_at]) == ["Mon 21:40"]


def test_five_coats_wanted_on_wednesday_morning():
    plan = backward(FIVE, at("2025-06-04 08:00"), DAYTIME)
    # cured by 08:00 means on by 20:00, and the shop closes at 17:00
    assert clock(plan.starts) == ["Tue 11:20", "Tue 12:40", "Tue 14:00", "Tue 15:20", "Tue 16:40"]
    assert clock([plan.ready_at]) == ["Wed 05:00"]


def test_work_that_does_not_fit_before_noon_waits_for_the_afternoon():
    split = open_on(("08:00", "12:00"), ("12:30", "16:00"))
    plan = forward([Step("strip", 60), Step("coat", 15, 240)], at("2025-06-02 11:10"), split)
    # 11:10 + 60 is 12:10; so 12:30 to 13:30, then 13:30 to 13:45 and four hours
    assert clock([*plan.starts, plan.ready_at]) == ["Mon 12:30", "Mon 13:30", "Mon 17:45"]


def test_work_that_ends_as_the_shop_closes_fits_and_a_minute_more_does_not():
    start = at("2025-06-02 16:40")
    assert clock(forward([Step("coat", 20)], start, DAYTIME).starts) == ["Mon 16:40"]
    assert clock(forward([Step("coat", 21)], start, DAYTIME).starts) == ["Tue 08:00"]
    assert clock(backward([Step("coat", 20)], at("2025-06-03 08:19"), DAYTIME).starts) == ["Mon 16:40"]
    assert clock(backward([Step("coat", 20)], at("2025-06-03 08:20"), DAYTIME).starts) == ["Tue 08:00"]


def test_a_longest_wait_moves_the_earlier_step_forward_and_the_later_one_backward():
    two = [Step("first", 30, 60, 120), Step("second", 30)]
    # 16:00 to 16:30, second from 17:30, that is Tuesday 08:00, 15:30 later. So the first goes to Tuesday, not before
    # 05:30, that is 08:00 to 08:30, the second at 09:30.
    plan = forward(two, at("2025-06-02 16:00"), DAYTIME)
    assert clock(plan.starts) == ["Tue 08:00", "Tue 09:30"]
    # wanted 09:00: second 08:30 to 09:00, first would end by 07:30, that is Monday 17:00. So the second is on Monday by
    # 17:00 + 2:00 + 0:30, that is 16:30 to 17:00, and the first 15:00 to 15:30.
    plan = backward(two, at("2025-06-03 09:00"), DAYTIME)
    assert clock(plan.starts) == ["Mon 15:00", "Mon 16:30"]


def test_a_longest_wait_moves_all_that_hang_on_it():
    three = [Step("a", 60, 0, 30), Step("b", 60, 0, 30), Step("c", 60)]
    # a 15:00, b 16:00, c not before Tuesday: b and then a go along
    plan = forward(three, at("2025-06-02 15:00"), DAYTIME)
    assert clock(plan.starts) == ["Tue 08:00", "Tue 09:00", "Tue 10:00"]


def test_a_longest_wait_behind_the_last_step_is_ignored():
    plan = forward([Step("film", 10, 30, 20)], at("2025-06-02 16:50"), DAYTIME)
    assert clock([plan.starts[0], plan.ready_at]) == ["Mon 16:50", "Mon 17:30"]


def test_a_closed_day_is_left_out_both_ways():
    closed = open_on(("08:00", "17:00"), closed=(date(2025, 6, 9),))
    assert clock(forward(FIVE, at("2025-06-06 13:00"), closed).starts)[3:] == ["Tue 08:00", "Tue 09:20"]
    # Tuesday 08:00: cured by then means on by Monday 20:00, which is closed, so by Friday 17:00
    assert clock(backward(FIVE, at("2025-06-10 08:00"), closed).starts)[-1] == "Fri 16:40"


def test_no_step_at_all_is_ready_at_once():
    start = at("2025-06-01 03:00")
    for plan in (forward([], start, DAYTIME), backward([], start, DAYTIME)):
        assert (plan.starts, plan.ends, plan.ready_at) == ((), (), start)


def test_work_of_no_minutes_needs_no_hours():
    plan = forward([Step("cure", 0, 60)], at("2025-06-01 03:00"), DAYTIME)
    assert clock([plan.starts[0], plan.ready_at]) == ["Sun 03:00", "Sun 04:00"]


def test_a_step_waits_for_what_it_may_not_come_before():
    steps = [Step("coat", 15), Step("film", 10, 30, not_before=at("2025-06-02 18:00"))]
    assert clock(forward(steps, at("2025-06-02 08:00"), DAYTIME).starts) == ["Mon 08:00", "Tue 08:00"]
    with pytest.raises(Infeasible, match=r"film would have to begin .* and cannot before 2025-06-02 22:00 UTC"):
        backward(steps, at("2025-06-03 08:30"), DAYTIME)


@pytest.mark.parametrize(
    ("steps", "hours", "code", "says"),
    [
        ([Step("strip", 541)], DAYTIME, "too_long", "strip takes 541 min .* never open for longer than 540 min"),
        ([Step("coat", 20)], ShopHours("UTC", {}), "no_hours", "The shop has no hours within 400 days"),
        ([Step("coat", 20)], ShopHours("UTC", {0: []}), "no_hours", "no work can be planned"),
        ([Step("coat", 20, 60, 30), Step("film", 5)], DAYTIME, "longest_wait", "60 min .* no more than 30 min may"),
        # the wait of 8:40 leaves 20 minutes of the day; behind 8 in the morning only 20 of the 30 that are wanted
        (
            [Step("coat", 20, 500, 600), Step("film", 30)],
            DAYTIME,
            "longest_wait",
            "shorter than what the shop hours allow",
        ),
    ],
)
@pytest.mark.parametrize("way", [forward, backward])
def test_what_cannot_be_says_why(way, steps, hours, code, says):
    with pytest.raises(Infeasible, match=says) as refused:
        way(steps, at("2025-06-02 08:00"), hours)
    assert refused.value.code == code


def test_the_search_ends_after_its_horizon():
    year = tuple(date(2025, 6, 2) + timedelta(days=day) for day in range(400))
    with pytest.raises(Infeasible, match="no hours within 400 days"):
        forward(FIVE, at("2025-06-02 08:00"), open_on(("08:00", "17:00"), closed=year))
    plan = forward(FIVE, at("2025-06-02 08:00"), open_on(("08:00", "17:00"), closed=year[:300]))
    assert plan.starts[0] == at("2026-03-30 08:00")  # 300 days after Monday 2 June is Sunday 29 March


@pytest.mark.parametrize("way", [forward, backward])
def test_a_time_without_a_zone_is_refused(way):
    with pytest.raises(ValueError, match="has no time zone"):
        way(FIVE, at("2025-06-02 08:00").replace(tzinfo=None), DAYTIME)


@pytest.mark.parametrize("given", [(-1,), (5, -1), (5, 0, -1), (float("nan"),), (5, float("inf"))])
def test_a_step_of_less_than_nothing_is_refused(given):
    with pytest.raises(ValueError, match="it goes from 0 upwards"):
        Step("coat", *given)
