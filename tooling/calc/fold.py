"""A history folded into the state of one surface: one pass, one step an entry."""

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import tzinfo

from tooling.calc import coats, standing, surface_work, uses
from tooling.calc.entry import RELEASE_KINDS, WORK_KINDS, Entry
from tooling.calc.order import Placed
from tooling.calc.recipe import RecipeBook
from tooling.calc.state import State
from tooling.calc.step import Step

_RULES: dict[str, Callable[[Step], None]] = {
    "lay_up": uses.lay_up,
    "lay_up_done": uses.lay_up_done,
    "abandoned": uses.abandoned,
    "pull": uses.pull,
    "sealer": coats.sealer,
    "coat": coats.coat,
    "film": coats.film,
    "clean": coats.clean,
    "strip": surface_work.back_to_bare,
    "repair": surface_work.back_to_bare,
    "polish": surface_work.back_to_bare,
    "resurfaced": surface_work.resurfaced,
    "build_up": surface_work.build_up,
    "release_check": surface_work.release_check,
    "wax_wanted": surface_work.wax_wanted,
    "hold": standing.hold,
    "inspected": standing.inspected,
    "interval": standing.interval,
    "release_system": standing.release_system,
    "retired": standing.retired,
    "reinstated": standing.reinstated,
}

# What still has a rule of its own on a retired tool.
_ALSO_RETIRED = ("retired", "reinstated")


@dataclass(frozen=True, slots=True)
class Folded:
    """A surface after its entries: its state, and (entry number, flag) for each flag on this surface."""

    state: State
    flags: list[tuple[int, str]]


def fold(sequence: Sequence[Placed], tool: Hashable, system: str | None, book: RecipeBook, zone: tzinfo) -> Folded:
    """Folds a surface's whole sequence from the beginning.

    Parameters:
        sequence [-]: all standing entries that bear on the surface, in order (an insert's with its molds' uses).
        tool [key]: the tool whose surface it is.
        system [code]: its recipe at the start of the history; None where it has none.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.

    Returns:
        [-] the state after the last entry, and all flags.

    Source: the house's own rules of release.
    """
    step = Step(State(system=system), tool, book, zone)
    start = _last_start(sequence, tool)
    for _, _, entry in sequence[:start]:
        if entry.kind in RELEASE_KINDS:
            step.flags.append((entry.id, "before_starting_state"))
            _keep_open(step.state, entry, tool)
    for _, _, entry in sequence[start:]:
        _apply(step, entry, system)
    return Folded(step.state, step.flags)


def advance(
    state: State, entries: Iterable[Entry], tool: Hashable, system: str | None, book: RecipeBook, zone: tzinfo
) -> Folded:
    """Steps a stored state on by entries that come after all those it has seen.

    A starting_state reaches back over earlier entries: fold the whole history again for one.

    Parameters:
        state [-]: the state so far; it is changed.
        entries [-]: the further entries, in order, none of them a starting_state.
        tool [key]: the tool whose surface it is.
        system [code]: its recipe at the start of the history; None where it has none.
        book [-]: the shop's recipes.
        zone [-]: the shop's time zone.

    Returns:
        [-] the same state after the last entry, and the flags of these entries.

    Raises:
        ValueError: for a starting_state.
    """
    step = Step(state, tool, book, zone)
    for entry in entries:
        if entry.kind == "starting_state":
            raise ValueError("a starting state reaches back: fold the whole history again")
        _apply(step, entry, system)
    return Folded(step.state, step.flags)


def _last_start(sequence: Sequence[Placed], tool: Hashable) -> int:
    starts = [i for i, (_, _, e) in enumerate(sequence) if e.kind == "starting_state" and e.tool == tool]
    return starts[-1] if starts else 0


def _apply(step: Step, entry: Entry, system: str | None) -> None:
    if entry.kind not in RELEASE_KINDS:
        return
    state = step.state
    step.take(entry)
    _keep_open(state, entry, step.tool)
    if entry.kind == "starting_state":
        step.state = standing.starting_state(step, system)
        return
    if state.retired and entry.kind not in _ALSO_RETIRED:
        step.flag("after_retirement")
        if entry.kind == "pull":
            state.total_pulls += entry.count or 1
        return
    if state.part is not None and entry.kind in WORK_KINDS and step.recipe is not None:
        step.flag("worked_with_part_in")
    _RULES[entry.kind](step)


def _keep_open(state: State, entry: Entry, tool: Hashable) -> None:
    """Keeps the mold's own open lay-ups: the pull that ends them reaches the inserts that were in it then."""
    if entry.tool != tool:
        return
    if entry.kind == "lay_up":
        state.open_lay_ups.append(entry.at)
    elif entry.kind in ("pull", "abandoned"):
        state.open_lay_ups = []
