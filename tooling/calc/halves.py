"""Which halves hold one part: the molds of a matched set close on it, and are laid up and pulled one by one."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Generic, TypeVar

# Between the pull of one half and the lay-up of the other: written late or not at all, they are one part all the same.
# The house's own: less than a part takes, more than the clock is wrong by.
APART = timedelta(days=1)

Of = TypeVar("Of")


@dataclass(frozen=True, slots=True, eq=False)
class Half(Generic[Of]):
    """A part in one mold from `at` to `until`, None: still. group: the matched set and the part; nothing: no half.

    is_gone: given up, or another was laid up over it.
    """

    of: Of
    tool: Hashable
    group: Hashable
    at: datetime
    until: datetime | None = None
    serials: frozenset[str] = frozenset()
    is_gone: bool = False


def together(halves: Iterable[Half[Of]]) -> list[list[Half[Of]]]:
    """The halves of each part, in the order in which the parts were begun.

    A part is once in each mold. Halves with different serial numbers are never one part; one without a number may be
    the other half of any. Those that were in their molds at once come first, of these the ones laid up nearest to each
    other. What is gone belongs to what was in the other mold at the time, where nothing else does.

    Parameters:
        halves [-]: what was laid up, in any order.

    Returns:
        [-] the halves of each part, the one that was laid up first in front.

    Source: the house's own rule.
    """
    ordered = sorted(halves, key=lambda half: half.at)
    part_of = {half: [half] for half in ordered}
    for _order, one, other in sorted(_pairs(ordered), key=lambda pair: pair[0]):
        first, second = part_of[one], part_of[other]
        if first is not second and all(_may_be_one(a, b) for a in first for b in second):
            first += second
            part_of |= dict.fromkeys(second, first)
    found = {id(part): part for part in part_of.values()}
    return [sorted(part, key=lambda half: half.at) for part in found.values()]


def _pairs(ordered: list[Half[Of]]) -> Iterable[tuple[tuple[bool, timedelta, timedelta], Half[Of], Half[Of]]]:
    """What can be two halves of one part, each with how likely: the least is the likeliest."""
    near: list[Half[Of]] = []
    for other in ordered:
        near = [one for one in near if one.until is None or one.until + APART >= other.at]
        for one in near:
            gap = max(timedelta(0), other.at - one.until) if one.until is not None else timedelta(0)
            is_gone = one.is_gone or other.is_gone
            if _may_be_one(one, other) and not (is_gone and gap):
                yield (is_gone, gap, other.at - one.at), one, other
        if other.group:
            near.append(other)


def _may_be_one(one: Half[Of], other: Half[Of]) -> bool:
    is_one_set = one.group == other.group and one.tool != other.tool
    return is_one_set and (not one.serials or not other.serials or bool(one.serials & other.serials))
