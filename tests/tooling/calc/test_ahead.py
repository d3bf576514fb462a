"""The coats that lie ahead of a surface, worked out by hand."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.ahead import coats_ahead
from tooling.calc.recipe import Recipe
from tooling.calc.state import PREPARING, SERVICE, State

NOON = datetime(2026, 5, 12, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
WAX = Recipe(
    "W", coats_new=3, coats_again=3, touch_up_coats=2, break_in=(), pulls_between=4, coat_gap_minutes=60,
    longest_gap_hours=24, cure_hours_preparation=4, cure_hours_touch_up=1, sealer_coats=1,
)  # fmt: skip


def ahead(**state):
    return coats_ahead(State(system="W", **state), WAX, UTC, NOON)


def test_a_bare_surface_wants_all_of_them():
    plan = ahead()
    assert (plan.sealers, plan.on, plan.missing, plan.wanted) == (1, 0, 3, 3)
    assert (plan.next_at, plan.late_after) == (None, None)


def test_the_next_coat_waits_for_the_one_before():
    plan = ahead(phase=PREPARING, sealers=1, coats=2, gap_from=NOON - HOUR / 2, last_coat=NOON - HOUR / 2)
    assert (plan.on, plan.missing) == (2, 1)
    assert plan.next_at == NOON + HOUR / 2
    assert plan.late_after == NOON - HOUR / 2 + 24 * HOUR


def test_exactly_the_gap_is_good():
    assert ahead(phase=PREPARING, coats=1, gap_from=NOON - HOUR).next_at is None


@pytest.mark.parametrize(("since", "missing"), [(3, 0), (4, 2), (6, 2)])
def test_in_service_a_touch_up_is_wanted_when_the_pulls_are_done(since, missing):
    plan = ahead(phase=SERVICE, new=False, since_coat=since, last_pull=NOON, last_coat=NOON)
    assert (plan.missing, plan.on, plan.sealers) == (missing, 0, 0)


def test_a_touch_up_begun_is_finished():
    plan = ahead(phase=SERVICE, new=False, touch_up_coats=1, last_pull=NOON, last_coat=NOON)
    assert (plan.on, plan.missing) == (1, 1)


def test_a_surface_that_only_cures_wants_no_coat():
    plan = ahead(phase=SERVICE, new=False, ready_at=NOON + HOUR, last_coat=NOON, last_pull=NOON)
    assert plan.missing == 0


def test_a_strip_that_is_due_is_said():
    assert ahead(phase=SERVICE, new=False, forced_strip={"strip_came_off"}, last_coat=NOON).strip
