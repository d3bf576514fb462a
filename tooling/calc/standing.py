"""Whether the tool may be used at all, by which recipe and number, and how its record begins."""

from tooling.calc.entry import part_key
from tooling.calc.state import BARE, SERVICE, UNKNOWN, State
from tooling.calc.step import Step


def hold(step: Step) -> None:
    """Not to be used until someone has looked.

    Parameters:
        step [-]: the hold on its way into a surface.
    """
    step.hold("hold")


def inspected(step: Step) -> None:
    """Looked at: a pass frees the tool of every hold, a fail holds it.

    Parameters:
        step [-]: the inspected on its way into a surface.
    """
    state, entry = step.state, step.entry
    if entry.passed is not True:
        step.hold("inspection_failed")
        return
    if not state.holds:
        step.flag("not_on_hold")
    elif entry.by is not None and entry.by in state.held_by:
        step.flag("inspected_by_same_hand")
    state.holds.clear()
    state.held_by.clear()


def interval(step: Step) -> None:
    """The tool's own number of pulls between coats, or one part's on this tool; empty gives the recipe's back.

    Parameters:
        step [-]: the interval on its way into a surface.
    """
    state, count = step.state, step.entry.count
    if step.recipe is None:
        return
    part = part_key(step.entry.part)
    if not part:
        state.own_n = count
    elif count is None:
        state.part_n.pop(part, None)
    else:
        state.part_n[part] = count


def release_system(step: Step) -> None:
    """Another recipe from now on: plain on a bare surface, else what is on has to come off.

    Parameters:
        step [-]: the release_system on its way into a surface.
    """
    state, code = step.state, step.entry.release_system
    if code == state.system:
        return
    if state.phase != BARE:
        step.flag("release_system_changed_over_coat")
        state.forced_strip.add("strip_release_system")
    state.system = code
    state.own_n = None
    state.part_n.clear()


def retired(step: Step) -> None:
    """Taken out of use for good.

    Parameters:
        step [-]: the retired on its way into a surface.
    """
    if step.state.retired:
        step.flag("already_retired")
    step.state.retired = True


def reinstated(step: Step) -> None:
    """Brought back: bare, not new, nothing in it, held until it has been looked at.

    Parameters:
        step [-]: the reinstated on its way into a surface.
    """
    state = step.state
    if not state.retired:
        step.flag("not_retired")
        return
    state.retired = False
    state.lay_bare()
    state.new, state.part = False, None
    state.holds.clear()
    state.held_by.clear()
    step.hold("reinstated")


def starting_state(step: Step, system: str | None) -> State:
    """What is known of a tool whose past was not recorded: a snapshot that replaces all that came before.

    Parameters:
        step [-]: the starting_state on its way into a surface.
        system [code]: the recipe at the start of the history; None where the tool has none.

    Returns:
        [-] the state from here on.
    """
    entry, recipe = step.entry, step.book.at(system, step.at)
    total = entry.total_pulls or 0
    start = State(system=system, total_pulls=total, open_lay_ups=step.state.open_lay_ups)
    if recipe is None or entry.prepared == "no":
        start.new = total == 0 and entry.prepared == "no"
        return start
    start.new = False
    start.touch_ups = entry.touch_ups or 0
    start.last_coat = start.last_pull = step.at
    if entry.prepared == "yes" and entry.pulls_since_coat is not None:
        start.phase = SERVICE
        start.index = len(recipe.break_in)
        start.since_coat = start.since_preparation = entry.pulls_since_coat
        start.strokes = [""] * entry.pulls_since_coat
        start.film_first_past = True
        start.touch_ups_known = entry.touch_ups is not None
    else:
        start.phase = UNKNOWN
        start.touch_ups_known = False
    return start
