"""Which parts wait at the trim bench: what came off the molds, against what was cut with each trim mask."""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Off:
    """Parts of one number that came off together: their serial numbers, and how many in all."""

    part: str
    at: datetime
    serials: tuple[str, ...] = ()
    count: int = 1


@dataclass(frozen=True, slots=True)
class Cut:
    """Parts that were cut with one trim mask; `part` is "" where nobody said which."""

    trim_mask: Hashable
    part: str
    at: datetime
    serials: tuple[str, ...] = ()
    count: int = 1


@dataclass(frozen=True, slots=True)
class Waiting:
    """One part that still wants a cut; `serial` is "" where it has none. done: the trim masks that it was cut with."""

    part: str
    serial: str
    at: datetime
    done: frozenset[Hashable] = frozenset()


def waiting(off: Iterable[Off], cuts: Iterable[Cut], wanted: Mapping[str, Iterable[Hashable]]) -> list[Waiting]:
    """The parts that are not cut with all that their tool set needs, the one that came off first in front.

    A part with a serial number is cut when a cut names it, for its part or for none. Of those without one as many as
    were cut without one are done, the oldest first; what was cut before the first of them came off counts for none.

    Parameters:
        off [-]: what came off, in any order; parts and serial numbers as they are compared.
        cuts [-]: what was cut, in any order.
        wanted [-]: the trim masks that each part needs, by its number.

    Returns:
        [-] one row a part, with the trim masks that it was cut with already.

    Source: the house's own rule.
    Example: of two without a number one was cut: the younger one waits.
    """
    cuts = list(cuts)
    named = {(cut.trim_mask, cut.part, serial) for cut in cuts for serial in cut.serials}
    found: list[Waiting] = []
    bare: dict[str, list[datetime]] = {}
    for one in off:
        for serial in one.serials:
            masks = wanted.get(one.part, ())
            done = {mask for mask in masks if {(mask, one.part, serial), (mask, "", serial)} & named}
            found.append(Waiting(one.part, serial, one.at, frozenset(done)))
        bare.setdefault(one.part, []).extend([one.at] * max(0, one.count - len(one.serials)))
    for part, times in bare.items():
        found += _without_number(part, sorted(times), cuts, wanted.get(part, ()))
    left = [one for one in found if set(wanted.get(one.part, ())) - one.done]
    return sorted(left, key=lambda one: (one.at, one.part, one.serial))


def _without_number(part: str, times: list[datetime], cuts: list[Cut], wanted: Iterable[Hashable]) -> list[Waiting]:
    masks = list(wanted)
    done = {
        mask: sum(
            max(0, cut.count - len(cut.serials))
            for cut in cuts
            if (cut.trim_mask, cut.part) == (mask, part) and times and cut.at >= times[0]
        )
        for mask in masks
    }
    return [
        Waiting(part, "", at, frozenset(mask for mask in masks if place < done[mask])) for place, at in enumerate(times)
    ]
