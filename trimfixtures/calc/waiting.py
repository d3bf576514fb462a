"""Which parts wait at the trim bench: what came off the molds, against what was cut with each trim mask."""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Off:
    """Parts of one number that came off together: their serial numbers, and how many in all.

    hand: of the mold, "" where it has none; a trim mask of the other hand does not cut them.
    """

    part: str
    at: datetime
    serials: tuple[str, ...] = ()
    count: int = 1
    hand: str = ""


@dataclass(frozen=True, slots=True)
class Cut:
    """Parts that were cut with one trim mask; `part` is "" where nobody said which.

    spoilt: the last of them is to be looked at. lost: nothing more comes of that one.
    """

    trim_mask: Hashable
    part: str
    at: datetime
    serials: tuple[str, ...] = ()
    count: int = 1
    spoilt: bool = False
    lost: bool = False


@dataclass(frozen=True, slots=True)
class Waiting:
    """One part that still wants a cut; `serial` is "" where it has none. done: the trim masks that it was cut with.

    spoilt: the last cut that spoiled it, where it was not cut with the same trim mask since. skip: the trim masks that
    are of the other hand.
    """

    part: str
    serial: str
    at: datetime
    done: frozenset[Hashable] = frozenset()
    spoilt: Cut | None = None
    skip: frozenset[Hashable] = frozenset()


def waiting(
    off: Iterable[Off],
    cuts: Iterable[Cut],
    wanted: Mapping[str, Iterable[Hashable]],
    hands: Mapping[Hashable, str] | None = None,
) -> list[Waiting]:
    """The parts that are not cut with all that their tool set needs, the one that came off first in front.

    A part with a serial number is cut when a cut names it, for its part or for none. Of those without one as many as
    were cut without one are done, the oldest first; what was cut before the first of them came off counts for none.
    A cut that spoiled a part does not count, and of a part that is lost nothing waits.

    Parameters:
        off [-]: what came off, in any order; parts and serial numbers as they are compared.
        cuts [-]: what was cut, in any order.
        wanted [-]: the trim masks that each part needs, by its number.
        hands [-]: of the trim masks that have one.

    Returns:
        [-] one row a part, with the trim masks that it was cut with already.

    Source: the house's own rule.
    Example: of two without a number one was cut: the younger one waits.
    """
    cuts = sorted(cuts, key=lambda cut: cut.at)
    last = {(cut.trim_mask, cut.part, serial): _spoiling(cut, serial) for cut in cuts for serial in cut.serials}
    found: list[Waiting] = []
    bare: dict[str, list[tuple[datetime, frozenset[Hashable]]]] = {}
    for one in off:
        skip = _of_the_other_hand(one.hand, wanted.get(one.part, ()), hands or {})
        for serial in one.serials:
            keys = {mask: ((mask, one.part, serial), (mask, "", serial)) for mask in wanted.get(one.part, ())}
            ended = {mask: [last[key] for key in of if key in last] for mask, of in keys.items()}
            done = frozenset(mask for mask, of in ended.items() if of and None in of)
            spoilt = [cut for mask, of in ended.items() if mask not in done for cut in of if cut is not None]
            if not any(cut.lost for cut in spoilt):
                found.append(
                    Waiting(one.part, serial, one.at, done, max(spoilt, key=lambda cut: cut.at, default=None), skip)
                )
        bare.setdefault(one.part, []).extend([(one.at, skip)] * max(0, one.count - len(one.serials)))
    for part, each in bare.items():
        found += _without_number(part, sorted(each, key=lambda one: one[0]), cuts, wanted.get(part, ()))
    left = [one for one in found if set(wanted.get(one.part, ())) - one.done - one.skip]
    return sorted(left, key=lambda one: (one.at, one.part, one.serial))


def _spoiling(cut: Cut, serial: str) -> Cut | None:
    """The cut, where it spoiled this one."""
    return cut if cut.spoilt and serial == cut.serials[-1] else None


def _of_the_other_hand(hand: str, masks: Iterable[Hashable], hands: Mapping[Hashable, str]) -> frozenset[Hashable]:
    return frozenset(mask for mask in masks if hand and hands.get(mask, "") not in ("", hand))


def _without_number(
    part: str, each: list[tuple[datetime, frozenset[Hashable]]], cuts: list[Cut], wanted: Iterable[Hashable]
) -> list[Waiting]:
    """each: when a part came off and the trim masks of the other hand, the oldest in front."""
    done: list[set[Hashable]] = [set() for _one in each]
    for mask in wanted:
        of_it = sum(
            max(0, cut.count - len(cut.serials) - (cut.spoilt and not cut.lost and not cut.serials))
            for cut in cuts
            if (cut.trim_mask, cut.part) == (mask, part) and each and cut.at >= each[0][0]
        )
        for place in [place for place, (_at, skip) in enumerate(each) if mask not in skip][:of_it]:
            done[place].add(mask)
    return [Waiting(part, "", at, frozenset(cut), skip=skip) for (at, skip), cut in zip(each, done, strict=True)]
