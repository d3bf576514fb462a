"""What the strip of tape on a surface shows: strokes, places still allowed, coats that are on or wanted."""

from dataclasses import dataclass
from datetime import datetime, tzinfo

from tooling.calc.due import allowance, coats_needed, expired, pulls_left, strip_due, touch_up_due
from tooling.calc.recipe import RecipeBook
from tooling.calc.state import SERVICE, UNKNOWN, State


@dataclass(frozen=True, slots=True)
class Tape:
    """How each pull since the coat came off, the pulls left (below 0: past the coat line), coats (on, wanted)."""

    strokes: tuple[str, ...]
    left: int
    coats: tuple[int, int] | None


def tape_of(state: State, book: RecipeBook, zone: tzinfo, at: datetime) -> Tape:
    """The tape of one surface at a moment. Never from the pulls left of the status: those are 0 while it is held.

    Parameters:
        state [-]: the surface after all entries up to the moment.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.
        at [UTC]: the moment.

    Returns:
        [-] the tape; `coats` is None in service with no touch-up begun, and `left` then counts.
    """
    strokes = tuple(state.strokes)
    recipe = book.at(state.system, at)
    if recipe is None:
        return Tape(strokes, 0, (0, 0))
    if state.phase in (SERVICE, UNKNOWN):
        if state.phase == UNKNOWN or state.touch_up_coats:
            on = state.touch_up_coats
            return Tape(strokes, 0, (on, max(0, recipe.touch_up_coats - on)))
        over = expired(state, recipe, at, zone)
        due = touch_up_due(state, recipe, over)
        past = state.since_coat - allowance(state, recipe)
        if past > 0:
            return Tape(strokes, -past, None)
        nothing_due = not due and not strip_due(state, recipe, over, bool(due))
        return Tape(strokes, pulls_left(state, recipe) if nothing_due else 0, None)
    return Tape(strokes, 0, (state.coats, max(0, coats_needed(state, recipe) - state.coats)))
