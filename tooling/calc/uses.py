"""Using the surface: lay-up, its end, a lay-up given up, and the pull."""

from dataclasses import replace

from tooling.calc.due import expired, film_too_old, film_wanted, film_wet, strip_due, touch_up_due
from tooling.calc.entry import NOT_RELEASE_CAUSES, severity
from tooling.calc.recipe import Recipe
from tooling.calc.state import BARE, PREPARING, SERVICE, UNKNOWN, PartIn
from tooling.calc.step import Step

# A tool without a recipe still knows that a lost part stops it.
_HOLD_WITHOUT_RECIPE = "lost"


def _judge(step: Step) -> None:
    """Judges one use of the surface (a lay-up, or a single pull that had none) and uses up the film."""
    state, recipe = step.state, step.recipe
    if recipe is None:
        step.flag("used_on_bare")
        return
    if state.holds:
        step.flag("used_on_hold")
    if state.phase == BARE:
        step.flag("used_on_bare")
    elif state.phase == PREPARING:
        step.flag("used_while_preparing")
        state.coats, state.next_cap = 0, None
    elif state.phase == UNKNOWN:
        step.flag("used_count_unknown")
    if state.phase in (SERVICE, UNKNOWN) and state.touch_up_coats:
        step.flag("unfinished_touch_up_lost")
        state.touch_up_coats, state.next_cap = 0, None
    if state.phase == SERVICE:
        _judge_service(step, recipe)
    state.film_at = None


def _judge_service(step: Step, recipe: Recipe) -> None:
    state, at = step.state, step.at
    step.latch(recipe)
    if state.ready_at is not None and at < state.ready_at:
        step.flag("used_before_cure")
    over = expired(state, recipe, at, step.zone)
    due = touch_up_due(state, recipe, over, step.entry.part)
    if due or strip_due(state, recipe, over, bool(due)):
        step.flag("used_overdue")
    if film_wanted(state, recipe) and step.entry.film is not True:
        if state.film_at is None or film_too_old(state.film_at, recipe, at):
            step.flag("used_without_film")
        elif film_wet(state.film_at, recipe, at):
            step.flag("used_on_wet_film")


def lay_up(step: Step) -> None:
    """A part is laid up: the use is judged now, hours before the pull.

    Parameters:
        step [-]: the lay_up on its way into a surface.
    """
    state, entry = step.state, step.entry
    if state.part is not None:
        step.flag("already_laid_up")
    _judge(step)
    state.part = PartIn(entry.part, entry.serial, entry.at, entry.earliest_pull, entry.id)


def lay_up_done(step: Step) -> None:
    """The last ply is on: the earliest pull is now this entry's own.

    Parameters:
        step [-]: the lay_up_done on its way into a surface.
    """
    part = step.state.part
    if part is None:
        step.flag("nothing_laid_up")
    else:
        step.state.part = replace(part, earliest_pull=step.entry.earliest_pull)


def abandoned(step: Step) -> None:
    """The lay-up was given up: nothing is pulled, but the surface wants a coat before the next.

    Parameters:
        step [-]: the abandoned on its way into a surface.
    """
    if step.state.part is None:
        step.flag("nothing_laid_up")
    step.state.part = None
    step.state.film_at = None
    step.force("abandoned")


def pull(step: Step) -> None:
    """One or more parts come off. The first takes the part that was laid up; every other is judged as a use.

    Parameters:
        step [-]: the pull on its way into a surface.
    """
    state, entry = step.state, step.entry
    here = entry.surface is None or entry.surface == step.tool
    came_off = entry.came_off if here else ""
    count = entry.count or 1
    for number in range(1, count + 1):
        if state.part is not None:
            if state.part.earliest_pull is not None and entry.at < state.part.earliest_pull:
                step.flag("pulled_early")
            state.part = None
        else:
            _judge(step)
        state.total_pulls += 1
        if state.phase == SERVICE:
            state.since_coat += 1
            state.since_preparation += 1
            state.strokes.append(came_off if number == count else "")
        state.last_pull = entry.at
    _how_it_came_off(step, came_off)
    if entry.tool_damaged and step.tool == (entry.tool if entry.surface is None else entry.surface):
        step.hold("tool_damaged")


def _how_it_came_off(step: Step, came_off: str) -> None:
    if not came_off:
        return
    state, recipe, bad = step.state, step.recipe, severity(came_off)
    if bad >= severity(recipe.hold_from if recipe else _HOLD_WITHOUT_RECIPE):
        step.hold("came_off")
    if recipe is None or state.phase == BARE:
        return
    if bad >= severity(recipe.strip_from):
        state.forced_strip.add("strip_came_off")
    elif bad >= severity(recipe.touch_up_from) and step.entry.cause not in NOT_RELEASE_CAUSES:
        step.force("came_off")
