"""What holds of every plan of one surface, and temperature. Source: the rules themselves, looked at from outside."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tooling.calc.timeline import Infeasible, ShopHours, Step, backward, forward, q10_ratio, temperature_factor

# A week before the clocks of Berlin change to a week after it.
STARTS = st.integers(0, 21 * 24 * 60).map(
    lambda minutes: datetime(2025, 10, 12, tzinfo=UTC) + timedelta(minutes=minutes)
)
WINDOWS = st.sampled_from([("08:00", "17:00"), ("06:00", "14:00"), ("22:00", "06:00"), ("12:30", "16:30")])
HOURS = st.builds(
    ShopHours,
    st.sampled_from(["Europe/Berlin", "America/New_York", "Australia/Lord_Howe"]),
    st.dictionaries(st.integers(0, 6), st.lists(WINDOWS, max_size=2), min_size=2),
    st.sets(st.dates(date(2025, 10, 10), date(2025, 11, 10)), max_size=4).map(tuple),
)
NO_LIMIT = st.builds(Step, st.just("coat"), st.integers(1, 180), st.integers(0, 900))
LIMITED = NO_LIMIT.flatmap(
    lambda step: st.integers(0, 1200).map(lambda more: replace(step, longest_wait_minutes=step.wait_minutes + more))
)
CHAINS = st.lists(NO_LIMIT | LIMITED, min_size=1, max_size=4)


def plan_or_none(way, steps, at, hours):
    try:
        return way(steps, at, hours)
    except Infeasible:
        return None


@given(CHAINS, STARTS, HOURS)
def test_every_wait_and_every_window_is_kept(steps, start, hours):
    for way in (forward, backward):
        plan = plan_or_none(way, steps, start, hours)
        assume(plan is not None)
        for step, begin, end in zip(steps, plan.starts, plan.ends, strict=True):
            assert end - begin == timedelta(minutes=step.work_minutes)
            assert in_a_window(begin, end, hours)
        waits = zip(steps, plan.ends, plan.starts[1:], strict=False)
        for step, end, begin in waits:
            assert begin - end >= timedelta(minutes=step.wait_minutes)
            if step.longest_wait_minutes is not None:
                assert begin - end <= timedelta(minutes=step.longest_wait_minutes)
    assert plan.ready_at <= start


def in_a_window(begin: datetime, end: datetime, hours: ShopHours) -> bool:
    """Minute by minute on the wall clock, which says nothing of how windows are laid out."""
    minutes = int((end - begin) / timedelta(minutes=1))
    return all(is_open(begin + timedelta(minutes=minute), hours) for minute in range(0, minutes, 7))


def is_open(at: datetime, hours: ShopHours) -> bool:
    local = at.astimezone(ZoneInfo(hours.time_zone))
    wall, today = f"{local:%H:%M}", local.date()
    yesterday = today - timedelta(days=1)
    now = [w for w in hours.week.get(today.weekday(), ()) if today not in hours.closed]
    before = [w for w in hours.week.get(yesterday.weekday(), ()) if yesterday not in hours.closed]
    return any(b <= wall and (wall < e or e <= b) for b, e in now) or any(e <= b and wall < e for b, e in before)


@given(CHAINS, STARTS, HOURS, st.integers(1, 3000))
def test_a_later_start_never_gives_an_earlier_end(steps, start, hours, minutes):
    early = plan_or_none(forward, steps, start, hours)
    late = plan_or_none(forward, steps, start + timedelta(minutes=minutes), hours)
    assume(early is not None and late is not None)
    assert early.ready_at <= late.ready_at
    assert all(one <= other for one, other in zip(early.starts, late.starts, strict=True))


@given(CHAINS, STARTS, HOURS, st.data())
def test_a_shorter_wait_never_gives_a_later_end(steps, start, hours, data):
    place = data.draw(st.integers(0, len(steps) - 1))
    shorter = list(steps)
    wait = steps[place].wait_minutes
    shorter[place] = replace(steps[place], wait_minutes=data.draw(st.integers(0, int(wait))))
    plan = plan_or_none(forward, steps, start, hours)
    assume(plan is not None)
    assert forward(shorter, start, hours).ready_at <= plan.ready_at


@given(CHAINS, STARTS, HOURS)
def test_forward_and_backward_agree(steps, start, hours):
    there = plan_or_none(forward, steps, start, hours)
    assume(there is not None)
    back = backward(steps, there.ready_at, hours)
    assert all(late >= early for late, early in zip(back.starts, there.starts, strict=True))
    again = forward(steps, back.starts[0], hours)
    assert again.ready_at == back.ready_at == there.ready_at


@pytest.mark.parametrize(
    ("temp", "factor"),
    [
        (23, 1),
        (30, 1),  # warmth shortens no supplier's minimum
        (13, 2),  # ten degrees colder: twice as long
        (18, 2**0.5),
        (8, 2**1.5),
    ],
)
def test_cold_makes_waits_longer(temp, factor):
    assert temperature_factor(temp, 23, 5, 35) == pytest.approx(factor)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ((14.9, 23, 15, 30), "14.9 °C and the recipe begins at 15 °C: warm the shop first"),
        ((30.1, 23, 15, 30), "30.1 °C and the recipe ends at 30 °C: let the shop cool first"),
        ((7, 23, 5, 30), "3.0 times those at 23 °C; more than 3 times is not reckoned with"),
        ((7, 23, None, None), "warm the shop first"),
        ((float("nan"), 23, 15, 30), "a number of °C"),
        ((20, 23, 15, 30, 0), "q10 is 0; it has to be above 0"),
    ],
)
def test_outside_its_range_a_recipe_says_nothing(given, says):
    with pytest.raises(ValueError, match=says):
        temperature_factor(*given)


def test_the_limits_of_a_recipe_are_inside_it():
    assert temperature_factor(15, 23, 15, 30) == pytest.approx(2**0.8)
    assert temperature_factor(30, 23, 15, 30) == 1


def test_the_ratio_of_accelerated_ageing():
    # ASTM F1980, from memory: AAF = Q10^((T_AA - T_RT) / 10), 55 °C against 25 °C with Q10 = 2
    assert q10_ratio(25, 55) == 8
    assert q10_ratio(55, 25) == pytest.approx(1 / 8)
    assert q10_ratio(25, 45, q10=3) == pytest.approx(9)
    with pytest.raises(ValueError, match="too far apart"):
        q10_ratio(0, 1e9)
