"""When a surface could be laid up if somebody began at once: the wait that the morning board puts a time to."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from tooling.calc.due import film_wanted
from tooling.calc.recipe import Recipe
from tooling.calc.state import State
from tooling.calc.status import WITH_PULLS_LEFT, Status

WHOLE_PREPARATION = frozenset({"needs_strip", "not_prepared", "preparing"})
# Somebody has to decide, or the part has to come out: no work alone makes it usable.
NOT_BY_WORK = frozenset({"retired", "held", "part_in_mold"})


@dataclass(frozen=True, slots=True)
class Work:
    """How long the hands are at it, in minutes; `wipe` is the wait before a coat is wiped."""

    coat: float = 15
    wipe: float = 0
    film: float = 10
    strip: float = 60


def ready_if_started(status: Status, state: State, recipe: Recipe | None, work: Work, at: datetime) -> datetime | None:
    """The earliest lay-up where the strip, the coats and the film that are missing are begun at once.

    The coats follow on each other as fast as work and waits allow; cure and film wait for what they wait for. No
    pause, no night and no other work is between.

    Parameters:
        status [-]: the surface by itself, at the moment.
        state [-]: the same surface after all its entries.
        recipe [-]: the row valid at the moment; None where the tool has none.
        work [min]: how long the hands are at each step.
        at [UTC]: the moment of beginning.

    Returns:
        [UTC] the instant, `at` itself where nothing is missing; None where no work alone makes it usable.

    Source: the house's own rules of release.
    """
    if recipe is None or status.status in NOT_BY_WORK:
        return None
    ready = at
    if status.need is not None:
        ready = _coated(status, state, recipe, work, at)
    elif state.ready_at is not None:
        ready = max(at, state.ready_at)
    if not film_missing(status, state, recipe):
        return max(ready, status.ready_at) if status.ready_at is not None else ready
    return ready + timedelta(minutes=work.film + recipe.film_dry_minutes)


def _coated(status: Status, state: State, recipe: Recipe, work: Work, at: datetime) -> datetime:
    """The end of the cure behind the last coat that is missing."""
    assert status.need is not None
    stripped = status.status == "needs_strip"
    wait = timedelta(minutes=max(recipe.coat_gap_minutes, work.wipe + work.coat))
    hands_free = at + timedelta(minutes=(work.strip if stripped else 0) + status.need.sealer * work.coat)
    last = None if stripped else state.gap_from
    on = hands_free
    for number in range(status.need.coat):
        on = hands_free + timedelta(minutes=work.coat) if number == 0 else on + wait
        if number == 0 and last is not None:
            on = max(on, last + timedelta(minutes=recipe.coat_gap_minutes))
    whole = status.status in WHOLE_PREPARATION
    cure = timedelta(hours=recipe.cure_hours_preparation if whole else recipe.cure_hours_touch_up)
    ready = max(on + cure, on + timedelta(minutes=work.wipe))
    return ready if whole or state.ready_at is None else max(ready, state.ready_at)


def film_missing(status: Status, state: State, recipe: Recipe) -> bool:
    """Whether a film has to go on: coats that are still to come would spoil one that is on.

    Parameters:
        status [-]: the surface by itself, at the moment.
        state [-]: the same surface after all its entries.
        recipe [-]: the row valid at the moment.

    Returns:
        [-] True or False.

    Source: the house's own rules of release.
    """
    if status.status in WHOLE_PREPARATION:
        return recipe.film_every_pull or recipe.film_first_pulls > 0
    if status.status in WITH_PULLS_LEFT and status.status != "curing":
        return status.status == "needs_film"
    return film_wanted(state, recipe) and (status.need is not None or state.film_at is None)
