"""The work that a surface still needs as steps of a plan. The expected times are worked by hand from the recipe."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from tests.tooling.calc.clock import DAYTIME, at, clock, open_on
from tooling.calc.readiness import Work, once_out, ready_if_started, steps_of
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import PREPARING, SERVICE, PartIn, State
from tooling.calc.status import status_of
from tooling.calc.timeline import Infeasible
from tooling.calc.together import side_by_side

NOW = at("2025-06-02 08:00")
WORK = Work(coat=20, wipe=10, film=10, strip=60)
WAX = Recipe("WAX", coats_new=5, coats_again=3, break_in=(), coat_gap_minutes=60, cure_hours_preparation=12,
             cure_hours_touch_up=2)  # fmt: skip
FILMED = replace(WAX, film_every_pull=True, film_dry_minutes=30, film_good_hours=8)


def surface(state: State, recipe: Recipe = WAX, **given):
    state.system = recipe.code
    status = status_of(state, 1, RecipeBook([recipe]), UTC, NOW)
    return steps_of(status, state, recipe, WORK, name="HULL", **given)


def in_service(**given) -> State:
    return State(phase=SERVICE, new=False, last_coat=NOW - timedelta(days=1), **given)


def planned(*given):
    return side_by_side(given, NOW, DAYTIME, 1)


def test_five_coats_of_the_recipe_are_the_worked_timeline():
    plan = planned(surface(State()))
    assert clock(plan.plans[0].starts) == ["Mon 08:00", "Mon 09:20", "Mon 10:40", "Mon 12:00", "Mon 13:20"]
    assert clock([plan.ready_at, plan.lay_up_at]) == ["Tue 01:40", "Tue 08:00"]


def test_a_strip_the_sealers_the_coats_and_a_film_in_this_order():
    sealed = replace(FILMED, sealer_coats=2, coats_again=2)
    wanted = surface(in_service(forced_strip={"strip_came_off"}), sealed)
    assert [step.name for step in wanted.steps] == ["strip", "sealer", "sealer", "coat", "coat", "film"]
    assert [step.work_minutes for step in wanted.steps] == [60, 20, 20, 20, 20, 10]
    assert [step.wait_minutes for step in wanted.steps] == [0, 0, 0, 60, 720, 30]
    # 60 + 20 + 20: first coat 09:40 to 10:00, second 11:00 to 11:20, cured 23:20; film Tuesday 08:00, dry 08:40
    assert clock([planned(wanted).lay_up_at]) == ["Tue 08:40"]


def test_a_colder_shop_makes_waits_longer_and_no_work():
    plan = planned(surface(in_service(since_coat=4), factor=1.5))
    # 08:00 to 08:20, and three hours instead of two
    assert clock([plan.ready_at]) == ["Mon 11:20"]
    assert [step.wait_minutes for step in surface(State(), factor=1.5).steps] == [90, 90, 90, 90, 1080]


def test_the_last_coat_is_good_for_the_least_of_the_days_that_it_has():
    for days, least in (((30, None, None), 30), ((30, 20, 40), 20), ((None, None, 9), 9), ((None, None, None), None)):
        names = ("max_idle_days", "strip_after_idle_days", "max_coat_age_days")
        limited = replace(FILMED, coats_new=2, **dict(zip(names, days, strict=True)))
        assert [step.good_days for step in surface(State(), limited).steps] == [None, least, None]


def test_the_wait_before_a_wipe_counts_where_the_gap_is_shorter():
    quick = replace(WAX, coat_gap_minutes=5, cure_hours_preparation=0)
    assert [step.wait_minutes for step in surface(State(new=False), quick).steps] == [10, 10, 10]


def test_coats_that_may_not_lie_far_apart_are_all_put_on_the_next_morning():
    hasty = replace(WAX, longest_gap_hours=3)
    late = at("2025-06-02 15:00")
    plan = side_by_side([surface(State(new=False), hasty)], late, DAYTIME, 1)
    # 15:00, 16:20, and Tuesday 08:00 is more than three hours on: so the second is on Tuesday, and so the first
    assert clock(plan.plans[0].starts) == ["Tue 08:00", "Tue 09:20", "Tue 10:40"]
    # it counts from coat to coat, each written down when it is on
    assert surface(State(new=False), hasty).steps[0].longest_wait_minutes == 180 - 20
    with pytest.raises(Infeasible, match="HULL: 240 min has to pass after coat, and no more than 180 min may"):
        planned(surface(State(new=False), hasty, factor=4))


def test_the_gap_behind_a_coat_that_is_on_is_waited_for():
    state = State(phase=PREPARING, coats=4, gap_from=NOW - timedelta(minutes=15))
    # on at 07:45, so the fifth from 08:45, on at 09:05
    assert clock([planned(surface(state)).ready_at]) == ["Mon 21:05"]
    assert clock(planned(surface(state, factor=2)).plans[0].starts) == ["Mon 09:45"]


def test_a_film_waits_for_a_cure_that_runs():
    state = in_service(ready_at=NOW + timedelta(hours=2))
    assert clock([planned(surface(state, FILMED)).plans[0].starts[0]]) == ["Mon 10:00"]
    assert clock([planned(surface(in_service(ready_at=NOW + timedelta(hours=2)))).ready_at]) == ["Mon 10:00"]


def test_a_film_that_is_on_is_wanted_again_where_another_surface_takes_longer():
    on = surface(in_service(film_at=NOW - timedelta(hours=1)), FILMED)
    assert (on.steps, on.good_until) == ((), NOW + timedelta(hours=7))
    assert planned(on).lay_up_at == NOW
    other = replace(surface(State()), name="DECK")
    plan = planned(on, other)
    # the other is cured on Tuesday at 01:40; the film goes on when hands are back, from 08:00 to 08:10, dry at 08:40
    assert clock([plan.plans[0].starts[0], plan.lay_up_at]) == ["Tue 08:00", "Tue 08:40"]


def laid_up(**given) -> State:
    return in_service(system="WAX", part=PartIn("K1", "", NOW - timedelta(hours=3), **given, entry=1))


def test_a_part_comes_out_before_the_coat_that_its_pull_makes_necessary():
    state = replace(laid_up(earliest_pull=at("2025-06-02 15:00")), since_coat=3)
    book = RecipeBook([WAX])
    out = once_out(state, 1, book, UTC, NOW)
    assert (out.status.status, out.status.need.coat, out.known) == ("needs_touch_up", 1, True)
    assert (state.since_coat, state.part is None) == (3, False), "the state that was asked about is left alone"
    plan = planned(steps_of(out.status, out.state, WAX, WORK, not_before=out.at))
    # pulled at 15:00, a coat to 15:20, two hours
    assert clock([plan.starts_at, plan.ready_at]) == ["Mon 15:00", "Mon 17:20"]


@pytest.mark.parametrize(("earliest", "known"), [(None, False), (NOW - timedelta(hours=1), True)])
def test_a_part_whose_time_is_up_or_was_never_said_comes_out_at_once(earliest, known):
    out = once_out(laid_up(earliest_pull=earliest), 1, RecipeBook([WAX]), UTC, NOW)
    assert (out.at, out.known, out.state.since_coat, out.state.total_pulls) == (NOW, known, 1, 1)


def test_an_empty_mold_is_as_it_is():
    state = in_service(system="WAX")
    out = once_out(state, 1, RecipeBook([WAX]), UTC, NOW)
    assert (out.state, out.at, out.known) == (state, NOW, True)


def test_no_work_alone_mends_a_hold():
    assert surface(in_service(holds={"hold": 1})) is None
    assert surface(laid_up(earliest_pull=None)) is None


@pytest.mark.parametrize(
    "state",
    [
        State(),
        in_service(since_coat=4),
        in_service(forced_strip={"strip_came_off"}),
        in_service(film_at=NOW - timedelta(minutes=10)),
        in_service(ready_at=NOW + timedelta(hours=2), since_coat=4),
        State(phase=PREPARING, coats=4, gap_from=NOW - timedelta(minutes=15)),
    ],
)
@pytest.mark.parametrize("recipe", [WAX, FILMED])
def test_in_a_shop_that_never_closes_it_is_the_time_on_the_board(state, recipe):
    always = open_on(("00:00", "24:00"), days=range(7))
    wanted = surface(state, recipe)
    status = status_of(state, 1, RecipeBook([recipe]), UTC, NOW)
    board: datetime | None = ready_if_started(status, state, recipe, WORK, NOW)
    assert side_by_side([wanted], NOW, always, 1).ready_at == board
