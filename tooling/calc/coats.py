"""What is put on the surface: sealer, coats of wax or release liquid, film; and wiping it clean."""

from datetime import timedelta

from tooling.calc.due import coats_needed, expired, strip_due, touch_up_due
from tooling.calc.recipe import EVERY_PREPARATION, Recipe
from tooling.calc.state import BARE, PREPARING, SERVICE, UNKNOWN, State
from tooling.calc.step import Step

# A further coat within a day of the last, before any pull, is part of the same going-over.
_EXTRA_COAT_WITHIN = timedelta(hours=24)


def sealer(step: Step) -> None:
    """Sealer coats. They belong under the release coats; over them the surface has to be stripped.

    Parameters:
        step [-]: the sealer on its way into a surface.
    """
    state, recipe = step.state, step.recipe
    state.film_at = None
    if recipe is None or step.entry.area != "whole":
        return
    over_coats = state.phase in (SERVICE, UNKNOWN) or (state.phase == PREPARING and state.coats > 0)
    if over_coats:
        step.flag("sealer_over_coat")
        state.forced_strip.add("strip_sealer")
    if state.phase in (BARE, PREPARING):
        state.phase = PREPARING
        state.sealers += step.entry.count or 1
        _complete_preparation(step, recipe)


def coat(step: Step) -> None:
    """Coats of wax or release liquid: they make a preparation, a touch-up, or are one coat extra.

    Parameters:
        step [-]: the coat on its way into a surface.
    """
    state, recipe, count = step.state, step.recipe, step.entry.count or 1
    if recipe is None:
        state.total_coats += count
        return
    other = step.entry.release_system or recipe.code
    foreign = other != recipe.code and other not in recipe.accepts
    if step.entry.area != "whole" and not foreign:
        state.film_at = None
        state.total_coats += count
        if state.phase == SERVICE:
            step.not_before(recipe.cure_hours_touch_up)
        return
    step.latch(recipe)
    if step.entry.area == "whole":
        _judge_gap(step, recipe)
    since_last = step.at - state.last_coat if state.last_coat is not None else timedelta.max
    state.gap_from = state.last_coat = step.at
    state.film_at = None
    if foreign:
        step.flag("foreign_coat")
        state.forced_strip.add("strip_foreign_coat")
        if state.phase == BARE:
            state.phase = PREPARING
        return
    state.total_coats += count
    cap = _cap_of(step, other) if other != recipe.code else None
    if state.phase in (BARE, PREPARING):
        _coat_of_preparation(step, recipe, count, cap)
    else:
        _coat_in_service(step, recipe, count, cap, since_last)


def film(step: Step) -> None:
    """A film (PVA) over the coats; it stands from now until it is used, spoiled or too old.

    Parameters:
        step [-]: the film on its way into a surface.
    """
    recipe = step.recipe
    if recipe is None:
        return
    if not recipe.film_every_pull and not recipe.film_first_pulls:
        step.flag("film_not_in_recipe")
    if step.state.phase != SERVICE:
        step.flag("film_on_unready")
    step.state.film_at = step.at


def clean(step: Step) -> None:
    """Wiped or washed: spoils a film, nothing else.

    Parameters:
        step [-]: the clean on its way into a surface.
    """
    step.state.film_at = None


def _judge_gap(step: Step, recipe: Recipe) -> None:
    state = step.state
    if state.gap_from is None:
        return
    gap = step.at - state.gap_from
    if gap < timedelta(minutes=recipe.coat_gap_minutes):
        step.flag("coat_too_soon")
    under_way = state.phase == PREPARING or state.touch_up_coats > 0
    longest = recipe.longest_gap_hours
    if under_way and longest is not None and gap > timedelta(hours=longest):
        step.flag("coat_too_late")


def _cap_of(step: Step, other: str) -> int | None:
    accepted = step.book.at(other, step.at)
    return accepted.pulls_between if accepted else None


def _least(one: int | None, other: int | None) -> int | None:
    given = [number for number in (one, other) if number is not None]
    return min(given) if given else None


def _coat_of_preparation(step: Step, recipe: Recipe, count: int, cap: int | None) -> None:
    state = step.state
    if state.sealers < recipe.sealer_coats:
        step.flag("coat_before_sealer")
        state.forced_strip.add("strip_sealer")
    state.phase = PREPARING
    state.coats += count
    state.next_cap = _least(state.next_cap, cap)
    _complete_preparation(step, recipe)


def _complete_preparation(step: Step, recipe: Recipe) -> None:
    state = step.state
    if state.coats < coats_needed(state, recipe) or state.sealers < recipe.sealer_coats:
        return
    breaks_in = recipe.break_in_on == EVERY_PREPARATION or state.new
    state.phase, state.new = SERVICE, False
    state.index = 0 if breaks_in else len(recipe.break_in)
    state.since_coat = state.since_preparation = state.touch_ups = state.touch_up_coats = 0
    state.strokes = []
    state.touch_ups_known, state.film_first_past = True, False
    state.forced.clear()
    state.ready_at = step.at + timedelta(hours=recipe.cure_hours_preparation)
    state.cap, state.next_cap = state.next_cap, None


def _coat_in_service(step: Step, recipe: Recipe, count: int, cap: int | None, since_last: timedelta) -> None:
    state = step.state
    over = expired(state, recipe, step.at, step.zone)
    due = touch_up_due(state, recipe, over)
    strip = strip_due(state, recipe, over, bool(due))
    if state.phase == SERVICE and strip:
        step.flag("touch_up_where_strip_due")
    if state.phase == SERVICE and not due and not strip and not state.touch_up_coats:
        soon = state.since_coat == 0 and since_last <= _EXTRA_COAT_WITHIN
        if not soon and state.touch_ups == recipe.max_touch_ups:
            step.flag("coat_beyond_limit")
            soon = True
        if soon:
            step.not_before(recipe.cure_hours_touch_up)
            state.cap = _least(state.cap, cap)
            return
    state.touch_up_coats += count
    state.next_cap = _least(state.next_cap, cap)
    if state.touch_up_coats >= recipe.touch_up_coats:
        _complete_touch_up(step, state, recipe)


def _complete_touch_up(step: Step, state: State, recipe: Recipe) -> None:
    if state.phase == UNKNOWN:
        state.phase, state.index, state.film_first_past = SERVICE, len(recipe.break_in), True
    elif state.since_coat > 0:
        state.index += 1
    state.touch_ups += 1
    state.touch_up_coats = state.since_coat = 0
    state.strokes = []
    state.forced.clear()
    step.not_before(recipe.cure_hours_touch_up)
    state.cap, state.next_cap = state.next_cap, None
