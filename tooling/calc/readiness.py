"""What work a surface still needs before a lay-up, and when that could be if somebody began at once."""

from collections.abc import Hashable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo

from tooling.calc.chain import Step
from tooling.calc.due import film_wanted
from tooling.calc.entry import Entry
from tooling.calc.fold import advance
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import State, decode, encode
from tooling.calc.status import WITH_PULLS_LEFT, Status, status_of
from tooling.calc.together import Surface

WHOLE_PREPARATION = frozenset({"needs_strip", "not_prepared", "preparing"})
# Somebody has to decide, or the part has to come out: no work alone makes it usable.
NOT_BY_WORK = frozenset({"retired", "held", "part_in_mold"})
# What a step is called, in the order of the work
STRIP, SEALER, COAT, FILM = "strip", "sealer", "coat", "film"


@dataclass(frozen=True, slots=True)
class Work:
    """How long the hands are at it, in minutes; `wipe` is the wait before a coat is wiped."""

    coat: float = 15
    wipe: float = 0
    film: float = 10
    strip: float = 60


@dataclass(frozen=True, slots=True)
class Out:
    """A surface as it stands when the part in it is out. `known`: somebody said from when it may come out."""

    state: State
    status: Status
    at: datetime
    known: bool


def steps_of(
    status: Status,
    state: State,
    recipe: Recipe | None,
    work: Work,
    *,
    name: str = "",
    factor: float = 1.0,
    not_before: datetime | None = None,
) -> Surface | None:
    """The work that a surface still needs before a lay-up, as steps for a plan.

    The strip, the sealers, the coats and the film that are missing, in this order. Behind each coat the wait before it
    is wiped or that to the next one passes, whichever is longer, and behind the last the cure. A film goes on when all
    is cured. How long a film is good is never made longer, nor the longest gap between two coats.

    Parameters:
        status [-]: the surface by itself, at the moment; for one with a part in it what `once_out` says.
        state [-]: the same surface after all its entries.
        recipe [-]: the row valid at the moment; None where the tool has none.
        work [min]: how long the hands are at each step.
        name [text]: what the surface is called in a refusal.
        factor [-]: on all waits that begin from now on, as `temperature_factor` says.
        not_before [UTC]: before which no work begins, because a part is in it; None where none is.

    Returns:
        [-] the steps and what they wait for; None where no work alone makes it usable.

    Source: the house's own rules of release.
    """
    if recipe is None or status.status in NOT_BY_WORK:
        return None
    steps = _coat_steps(status, state, recipe, work, factor) if status.need is not None else []
    cured = None if status.need is not None and status.status in WHOLE_PREPARATION else state.ready_at
    film = Step(
        FILM,
        work.film,
        recipe.film_dry_minutes * factor,
        None if recipe.film_good_hours is None else recipe.film_good_hours * 60,
        not_before=cured,
    )
    if film_missing(status, state, recipe):
        return Surface(name, (*steps, film), not_before)
    ready = max((one for one in (cured, status.ready_at) if one is not None), default=None)
    if state.film_at is None or recipe.film_good_hours is None or not film_wanted(state, recipe):
        return Surface(name, tuple(steps), not_before, ready)
    good_until = state.film_at + timedelta(hours=recipe.film_good_hours)
    return Surface(name, tuple(steps), not_before, ready, good_until, film)


def _coat_steps(status: Status, state: State, recipe: Recipe, work: Work, factor: float) -> list[Step]:
    assert status.need is not None
    stripped, whole = status.status == "needs_strip", status.status in WHOLE_PREPARATION
    wait = max(recipe.coat_gap_minutes, work.wipe) * factor
    longest = None
    if recipe.longest_gap_hours is not None:
        # It counts from coat to coat, each of which is written down when it is on.
        most = recipe.longest_gap_hours * 60
        longest = max(wait, most - work.coat) if most >= wait else most
    last = None if stripped else state.gap_from
    first_at = None if last is None else last + timedelta(minutes=recipe.coat_gap_minutes * factor)
    steps = [Step(STRIP, work.strip)] if stripped else []
    steps += [Step(SEALER, work.coat)] * status.need.sealer
    for number in range(status.need.coat):
        steps.append(Step(COAT, work.coat, wait, longest, first_at if number == 0 else None))
    cure = recipe.cure_hours_preparation if whole else recipe.cure_hours_touch_up
    behind = max(cure * 60, work.wipe) * factor
    limits = (recipe.max_idle_days, recipe.strip_after_idle_days, recipe.max_coat_age_days)
    good = min((days for days in limits if days is not None), default=None)
    steps[-1] = replace(steps[-1], wait_minutes=behind, longest_wait_minutes=None, good_days=good)
    return steps


def once_out(state: State, tool: Hashable, book: RecipeBook, zone: tzinfo, at: datetime, part: str = "") -> Out:
    """The surface when the part that is in it has come off free: at its earliest pull, at once where that is past.

    Parameters:
        state [-]: the surface after all its entries; it is left alone.
        tool [key]: the tool whose surface it is.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.
        at [UTC]: the moment it is asked for.
        part [text]: the part that is to be laid up then; "" asks for none.

    Returns:
        [-] the state and status behind that pull, and its moment; where no part is in it, as it is.

    Source: the house's own rules of release.
    """
    lies = state.part
    if lies is None:
        return Out(state, status_of(state, tool, book, zone, at, part), at, True)
    out = at if lies.earliest_pull is None else max(at, lies.earliest_pull)
    pull = Entry(0, tool, "pull", out)
    after = advance(decode(encode(state)), [pull], tool, state.system, book, zone).state
    return Out(after, status_of(after, tool, book, zone, out, part), out, lies.earliest_pull is not None)


def ready_if_started(status: Status, state: State, recipe: Recipe | None, work: Work, at: datetime) -> datetime | None:
    """The earliest lay-up where the strip, the coats and the film that are missing are begun at once.

    The steps follow on each other as fast as work and waits allow. No pause, no night and no other work is between.

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
    surface = steps_of(status, state, recipe, work)
    if surface is None:
        return None
    ready = at
    for step in surface.steps:
        begin = ready if step.not_before is None else max(ready, step.not_before)
        ready = begin + timedelta(minutes=step.work_minutes + step.wait_minutes)
    return ready if surface.ready_from is None else max(ready, surface.ready_from)


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
