"""What is due on a surface: allowance, pulls left, idle days, touch-up, strip, film, each at its very limit.

Source: the house's own rules of release.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from tooling.calc.due import (
    NOTHING_EXPIRED,
    Expired,
    allowance,
    coats_needed,
    expired,
    expiry_dates,
    film_too_old,
    film_wanted,
    film_wet,
    idle_since,
    pulls_left,
    strip_due,
    touch_up_due,
)
from tooling.calc.recipe import Recipe
from tooling.calc.state import State

INSTANT = timedelta(microseconds=1)
NOON = datetime(2024, 5, 6, 16, tzinfo=UTC)  # 12:00 in New York
NEW_YORK = ZoneInfo("America/New_York")
KEEL = Recipe("KEEL", break_in=(1, 2), pulls_between=4, max_idle_days=3, strip_after_idle_days=5, max_coat_age_days=4)
SERVICE = State(system="KEEL", phase="service", new=False, index=2, last_coat=NOON)


def surface(**more: object) -> State:
    return replace(SERVICE, **more)


@pytest.mark.parametrize(
    ("more", "part", "allowed"),
    [
        ({"index": 0}, "", 1),
        ({"index": 1}, "", 2),
        ({"index": 2}, "", 4),
        ({"index": 1, "own_n": 7}, "", 2),  # the break-in comes before the tool's own number
        ({"own_n": 7}, "", 7),
        ({"own_n": 7, "cap": 3}, "", 3),
        ({"index": 0, "cap": 3}, "", 1),  # a cap never gives more
        ({"part_n": {"P-1": 2}}, " p-1 ", 2),
        ({"part_n": {"P-1": 9}}, "P-1", 4),  # a part's own number never gives more
        ({"part_n": {"P-1": 2}}, "P-2", 4),
        ({"part_n": {"P-1": 2}}, "", 4),
    ],
)
def test_allowance(more, part, allowed):
    assert allowance(surface(**more), KEEL, part) == allowed


@pytest.mark.parametrize(
    ("since_coat", "since_preparation", "limit", "left"),
    [(0, 0, None, 4), (3, 3, None, 1), (4, 4, None, 0), (6, 6, None, 0), (0, 9, 10, 1), (0, 10, 10, 0), (0, 12, 10, 0)],
)
def test_pulls_left(since_coat, since_preparation, limit, left):
    state = surface(since_coat=since_coat, since_preparation=since_preparation)
    assert pulls_left(state, replace(KEEL, max_pulls_per_preparation=limit)) == left


def test_idle_days_count_from_the_latest():
    later = [NOON + timedelta(hours=hours) for hours in (1, 2)]
    assert idle_since(State()) is None
    assert idle_since(SERVICE) == NOON
    assert idle_since(surface(last_pull=later[1], last_check=later[0])) == later[1]
    assert idle_since(surface(last_pull=later[0], last_check=later[1])) == later[1]


@pytest.mark.parametrize(
    ("at", "over"),
    [
        # The coat went on on Monday the 6th, New York time; the limit day itself is good to its last instant.
        (datetime(2024, 5, 10, 4, tzinfo=UTC) - INSTANT, Expired(False, False, False)),
        (datetime(2024, 5, 10, 4, tzinfo=UTC), Expired(True, False, False)),
        (datetime(2024, 5, 11, 4, tzinfo=UTC) - INSTANT, Expired(True, False, False)),
        (datetime(2024, 5, 11, 4, tzinfo=UTC), Expired(True, False, True)),
        (datetime(2024, 5, 12, 4, tzinfo=UTC) - INSTANT, Expired(True, False, True)),
        (datetime(2024, 5, 12, 4, tzinfo=UTC), Expired(True, True, True)),
    ],
)
def test_time_limits_run_out_at_local_midnight(at, over):
    assert expired(SERVICE, KEEL, at, NEW_YORK) == over


def test_a_coat_grows_old_though_it_is_used():
    state = surface(last_pull=NOON + timedelta(days=4))
    assert expired(state, KEEL, NOON + timedelta(days=5), NEW_YORK) == Expired(False, False, True)


def test_no_limit_never_runs_out_and_no_day_is_a_limit():
    never = Recipe("KEEL", max_idle_days=None)
    assert expired(SERVICE, never, NOON + timedelta(days=9999), NEW_YORK) == NOTHING_EXPIRED
    today = Recipe("KEEL", max_idle_days=0)
    midnight = datetime(2024, 5, 7, 4, tzinfo=UTC)
    assert not expired(SERVICE, today, midnight - INSTANT, NEW_YORK).idle
    assert expired(SERVICE, today, midnight, NEW_YORK).idle


@pytest.mark.parametrize("phase", ["bare", "preparing", "unknown"])
def test_limits_run_in_service_only(phase):
    state = surface(phase=phase)
    assert expired(state, KEEL, NOON + timedelta(days=99), NEW_YORK) == NOTHING_EXPIRED
    assert expiry_dates(state, KEEL, NEW_YORK) == []


def test_the_first_days_on_which_they_are_over():
    state = surface(last_pull=datetime(2024, 5, 8, 3, 59, tzinfo=UTC))  # still the 7th in New York
    assert expiry_dates(state, KEEL, NEW_YORK) == [date(2024, 5, 11), date(2024, 5, 13), date(2024, 5, 11)]
    assert expiry_dates(state, Recipe("KEEL", max_idle_days=None), NEW_YORK) == []


def test_reasons_of_a_touch_up_in_their_order():
    assert touch_up_due(SERVICE, KEEL, NOTHING_EXPIRED) == []
    assert touch_up_due(surface(since_coat=3), KEEL, NOTHING_EXPIRED) == []
    assert touch_up_due(surface(since_coat=4), KEEL, NOTHING_EXPIRED) == ["count"]
    all_over = Expired(True, True, True)
    forced = surface(since_coat=4, forced={"abandoned", "wax_wanted", "release_check", "spot_bare", "came_off"})
    listed = ["came_off", "spot_bare", "release_check", "wax_wanted", "abandoned"]
    assert touch_up_due(forced, KEEL, all_over) == [*listed, "count", "idle", "coat_age"]
    latched = replace(forced, forced=forced.forced | {"idle", "coat_age"})
    listed[1:1] = ["idle", "coat_age"]
    assert touch_up_due(latched, KEEL, all_over) == touch_up_due(latched, KEEL, NOTHING_EXPIRED) == [*listed, "count"]
    assert touch_up_due(surface(part_n={"P-1": 2}, since_coat=2), KEEL, NOTHING_EXPIRED, "P-1") == ["count"]


def test_a_touch_up_is_due_in_service_and_always_where_nothing_is_known():
    assert touch_up_due(surface(phase="unknown"), KEEL, NOTHING_EXPIRED) == ["count_unknown"]
    for phase in ("bare", "preparing"):
        assert touch_up_due(surface(phase=phase, since_coat=9), KEEL, NOTHING_EXPIRED) == []


@pytest.mark.parametrize(
    ("touch_ups", "due", "strip"),
    [(1, False, []), (1, True, []), (2, False, []), (2, True, ["touch_ups"]), (3, False, ["touch_ups"])],
)
@pytest.mark.parametrize("phase", ["service", "unknown"])
def test_the_strip_takes_the_place_of_one_touch_up_too_many(phase, touch_ups, due, strip):
    recipe = replace(KEEL, max_touch_ups=2)
    assert strip_due(surface(phase=phase, touch_ups=touch_ups), recipe, NOTHING_EXPIRED, due) == strip
    assert strip_due(surface(phase="preparing", touch_ups=touch_ups), recipe, NOTHING_EXPIRED, due) == []


def test_reasons_of_a_strip_in_their_order():
    recipe = replace(KEEL, max_touch_ups=0, max_pulls_per_preparation=9)
    all_over = Expired(True, True, True)
    listed = ["strip_came_off", "strip_foreign_coat", "strip_release_system", "strip_sealer"]
    found = ["build_up", "touch_ups", "pulls_since_preparation"]
    every = surface(forced_strip=set(listed), build_up=True, since_preparation=9)
    assert strip_due(every, recipe, all_over, True) == [*listed, *found, "idle_long"]
    latched = replace(every, forced_strip={*listed, "idle_long"})
    assert strip_due(latched, recipe, all_over, True) == [*listed, "idle_long", *found]
    assert strip_due(replace(every, phase="bare"), recipe, all_over, True) == []
    assert strip_due(surface(since_preparation=8), recipe, NOTHING_EXPIRED, False) == []


def test_a_film_is_wanted_before_every_pull_or_the_first_of_a_preparation():
    first = Recipe("KEEL", film_first_pulls=2)
    assert [film_wanted(surface(since_preparation=pulls), first) for pulls in (0, 1, 2)] == [True, True, False]
    assert not film_wanted(surface(film_first_past=True), first)
    assert film_wanted(surface(film_first_past=True, since_preparation=9), Recipe("KEEL", film_every_pull=True))
    assert not film_wanted(surface(phase="preparing"), Recipe("KEEL", film_every_pull=True))


def test_a_film_exactly_dry_and_exactly_at_its_limit_is_good():
    recipe = Recipe("KEEL", film_dry_minutes=30, film_good_hours=2.5)
    dry, limit = NOON + timedelta(minutes=30), NOON + timedelta(hours=2.5)
    assert [film_wet(NOON, recipe, at) for at in (dry - INSTANT, dry)] == [True, False]
    assert [film_too_old(NOON, recipe, at) for at in (limit, limit + INSTANT)] == [False, True]
    assert not film_too_old(NOON, Recipe("KEEL"), NOON + timedelta(days=9999))


def test_coats_needed_are_those_of_a_new_surface_only_once():
    recipe = Recipe("KEEL", coats_new=6, coats_again=2)
    assert [coats_needed(State(new=new), recipe) for new in (True, False)] == [6, 2]
