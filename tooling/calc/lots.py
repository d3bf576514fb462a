"""Hard pulls by the lot that the coats came from: counted, nothing concluded."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field
from datetime import datetime

from tooling.calc.entry import HARD, Entry

# What keeps a part from coming off and is not the release: such a hard pull says nothing of the lot.
NOT_RELEASE = frozenset({"undercut", "temperature", "laminate", "handling"})
# With these the coats are gone, and what was begun with them is no cycle.
_ENDS = frozenset({"strip", "repair", "polish", "resurfaced"})


@dataclass(slots=True)
class LotCount:
    """One lot: its coats, the cycles made with it that were pulled from, and how many of these came off hard."""

    lot: str
    coats: int = 0
    cycles: int = 0
    hard: int = 0
    last_at: datetime | None = None


@dataclass(slots=True)
class _Cycle:
    """The coats since the last pull, and how the pulls since them came off."""

    lots: set[str] = field(default_factory=set)
    pulled: bool = False
    hard: bool = False


def by_lot(entries: Iterable[Entry], lots: dict[Hashable, str]) -> list[LotCount]:
    """The lots that coats of these entries name, that which was used last first.

    A cycle is the coats that went on before a first pull, with all pulls until the next coat. It counts once for each
    lot in it, and is hard where one of its pulls was, for a cause that is the release, unknown or not said. An insert
    has no pulls of its own, so it has coats alone.

    Parameters:
        entries [-]: standing entries of any tools, in the order in which they happened.
        lots [text]: the lot of each coat that names one, by the entry's id.

    Returns:
        [-] one a lot.

    Source: the house's own rules.
    """
    found: dict[str, LotCount] = {}
    cycles: dict[Hashable, _Cycle] = {}
    for entry in entries:
        cycle = cycles.setdefault(entry.tool, _Cycle())
        if entry.kind == "coat" and entry.area == "whole":
            if cycle.pulled:
                _close(cycle, found)
                cycle = cycles[entry.tool] = _Cycle()
            _coat(entry, lots.get(entry.id, ""), cycle, found)
        elif entry.kind == "pull":
            cycle.pulled = True
            cycle.hard |= _is_hard(entry)
        elif entry.kind in _ENDS and entry.area == "whole":
            _close(cycle, found)
            cycles[entry.tool] = _Cycle()
    for cycle in cycles.values():
        _close(cycle, found)
    return sorted(found.values(), key=lambda one: (one.last_at is not None, one.last_at, one.lot), reverse=True)


def _is_hard(pull: Entry) -> bool:
    """Hard, by its release, and on the tool itself where it says on which surface."""
    own = pull.surface is None or pull.surface == pull.tool
    return own and pull.came_off in HARD and pull.cause not in NOT_RELEASE


def _coat(entry: Entry, lot: str, cycle: _Cycle, found: dict[str, LotCount]) -> None:
    if not lot:
        return
    cycle.lots.add(lot)
    count = found.setdefault(lot, LotCount(lot))
    count.coats += entry.count or 1
    count.last_at = entry.at


def _close(cycle: _Cycle, found: dict[str, LotCount]) -> None:
    if not cycle.pulled:
        return
    for lot in cycle.lots:
        found[lot].cycles += 1
        found[lot].hard += cycle.hard
