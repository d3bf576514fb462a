"""Surfaces as they stood just before an entry, with what was on them: for one look back, folded from the histories."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import fold
from tooling.calc.membership import reached
from tooling.calc.order import Key, Placed, by_key
from tooling.calc.state import State
from tooling.calc.status import Status, status_of
from tooling.calc.tape import Tape, tape_of
from tooling.models import Tool
from tooling.selectors.history import History, ever_installed, system_code

_TO_BARE = frozenset({"strip", "repair", "polish", "resurfaced", "reinstated", "starting_state"})
_USES = frozenset({"lay_up", "pull", "abandoned"})


@dataclass(frozen=True, slots=True)
class Before:
    """A surface just before something happened to it. The part in it is left out: it is what is asked about."""

    at: datetime
    status: Status
    tape: Tape
    system: str
    family: str
    holds: dict[str, int]


@dataclass(frozen=True, slots=True)
class OnIt:
    """What was on a surface: the coats that were put on last, without a use between them, and the film."""

    coats: tuple[Fact, ...] = ()
    film: Fact | None = None


def before(history: History, tool: Tool, key: Key, part: str) -> Before:
    """How a tool's surface stood at the turn of an entry."""
    prefix = prefix_of(history.sequence(tool), key)
    state = fold(prefix, tool.pk, system_code(tool), history.book, history.zone).state
    at, alone = key[0], _without_part(state)
    recipe = history.book.at(state.system, at)
    return Before(
        at,
        status_of(alone, tool.pk, history.book, history.zone, at, part),
        tape_of(alone, history.book, history.zone, at),
        state.system or "",
        recipe.family if recipe is not None else "other",
        dict(state.holds),
    )


def tape_after(history: History, tool: Tool, key: Key) -> Tape:
    """The tape of a tool's surface right after an entry, with the stroke of it."""
    sequence = [placed for placed in history.sequence(tool) if by_key(placed) <= key]
    state = fold(sequence, tool.pk, system_code(tool), history.book, history.zone).state
    return tape_of(state, history.book, history.zone, key[0])


def _without_part(state: State) -> State:
    return replace(state, part=None)


def prefix_of(sequence: Sequence[Placed], key: Key) -> list[Placed]:
    """What comes before it."""
    return [placed for placed in sequence if by_key(placed) < key]


def on_it(sequence: Sequence[Placed], key: Key) -> OnIt:
    """What was on a surface when it was laid up."""
    coats: list[Fact] = []
    film, used = None, False
    for _, _, entry in reversed(prefix_of(sequence, key)):
        whole = entry.area == "whole"
        if (entry.kind in _TO_BARE and whole) or (entry.kind in _USES and coats):
            break
        used = used or entry.kind in _USES
        if entry.kind == "film" and film is None and not (used or coats):
            film = entry
        elif entry.kind == "coat" and whole:
            coats.append(entry)
    return OnIt(tuple(reversed(coats)), film)


def inside(history: History, molds: Iterable[Tool]) -> dict[int, list[Tool]]:
    """The inserts that were ever in each mold, with all that bears on them read in two queries."""
    members = ever_installed(mold.pk for mold in molds)
    inserts = {one.pk: one for found in members.values() for one in found}
    history.read(inserts)
    history.read({stay.mold for pk in inserts for stay in history.stays(pk)})  # type: ignore[misc]
    return members


def reached_by(history: History, members: Iterable[Tool], mold: Tool, instants: Iterable[datetime]) -> list[Tool]:
    """Those of the inserts that were in the mold at one of the instants."""
    times = list(instants)
    return [one for one in members if reached(history.stays(one.pk), mold.pk, times)]
