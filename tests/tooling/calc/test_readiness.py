"""When a surface could be laid up if somebody began at once. The expected times are added up by hand."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.readiness import Work, ready_if_started
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import BARE, PREPARING, SERVICE, UNKNOWN, PartIn, State
from tooling.calc.status import status_of

NOW = datetime(2026, 5, 12, 6, 40, tzinfo=UTC)
WORK = Work(coat=15, wipe=10, film=10, strip=60)
WAX = Recipe("WAX", coats_new=3, coats_again=2, break_in=(), pulls_between=4, coat_gap_minutes=60,
             cure_hours_preparation=12, cure_hours_touch_up=1)  # fmt: skip


def minutes(state: State, recipe: Recipe | None = WAX) -> float | None:
    """How long it takes from now on."""
    state.system = recipe.code if recipe is not None else None
    book = RecipeBook([recipe] if recipe is not None else [])
    ready = ready_if_started(status_of(state, 1, book, UTC, NOW), state, recipe, WORK, NOW)
    return (ready - NOW).total_seconds() / 60 if ready is not None else None


def in_service(**given) -> State:
    return State(phase=SERVICE, new=False, last_coat=NOW - timedelta(days=1), **given)


@pytest.mark.parametrize(
    ("state", "expected"),
    [
        (in_service(since_coat=2), 0),
        (in_service(since_coat=4), 15 + 60),
        # the gap lies between the end of one coat and the beginning of the next
        (State(), 15 + 60 + 15 + 60 + 15 + 12 * 60),
        (State(new=False), 15 + 60 + 15 + 12 * 60),
        (in_service(forced_strip={"strip_came_off"}), 60 + 15 + 60 + 15 + 12 * 60),
        (State(phase=UNKNOWN, new=False), 15 + 60),
        # the next coat waits for the one before it: 45 minutes to go
        (State(phase=PREPARING, coats=2, gap_from=NOW - timedelta(minutes=15)), 45 + 15 + 12 * 60),
        (State(phase=PREPARING, coats=2, gap_from=NOW - timedelta(hours=5)), 15 + 12 * 60),
        # an older cure is not over when that of the touch-up is
        (in_service(since_coat=4, ready_at=NOW + timedelta(hours=3)), 180),
        (in_service(ready_at=NOW + timedelta(minutes=20)), 20),
    ],
)
def test_coats_gaps_strip_and_cure(state, expected):
    assert minutes(state) == expected


def test_a_film_goes_on_when_the_coats_are_cured():
    film = Recipe("FILM", coats_new=1, break_in=(), film_every_pull=True, film_dry_minutes=30, cure_hours_preparation=2)
    assert minutes(State(phase=BARE), film) == 15 + 120 + 10 + 30
    assert minutes(in_service(), film) == 10 + 30
    assert minutes(in_service(film_at=NOW - timedelta(minutes=20)), film) == 10
    assert minutes(in_service(film_at=NOW - timedelta(minutes=40)), film) == 0


def test_the_wipe_counts_where_nothing_else_makes_it_wait():
    quick = Recipe("Q", coats_new=2, break_in=())
    assert minutes(State(), quick) == 15 + (10 + 15) + 10


def test_sealer_goes_on_first():
    sealed = Recipe("S", sealer_coats=2, coats_new=1, break_in=())
    assert minutes(State(), sealed) == 2 * 15 + 15 + 10


@pytest.mark.parametrize(
    "state",
    [
        in_service(holds={"hold": 1}),
        in_service(retired=True),
        in_service(part=PartIn("", "", NOW, None, 1)),
    ],
)
def test_what_no_work_mends_has_no_time(state):
    assert minutes(state) is None


def test_without_a_recipe_nobody_can_say():
    assert minutes(State(), None) is None
