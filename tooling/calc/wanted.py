"""How far a wanted part is: what was laid up since it is wanted, and what of that came off."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import datetime

from tooling.calc.halves import Half, together

PULL, ABANDONED, LAY_UP = "pull", "abandoned", "lay_up"


@dataclass(frozen=True, slots=True)
class Begun:
    """One lay-up in one tool, and how it ended: with a pull, or not yet (""); else given up or laid up again.

    group: the matched set of the tool, "" for none. parts: how many were begun. pulled: how many came off and are
    whole. serials: what they are known by.
    """

    tool: Hashable
    group: str
    at: datetime
    parts: int = 1
    ended: str = ""
    ended_at: datetime | None = None
    pulled: int = 0
    serials: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Progress:
    """How many are laid up, those that were pulled included; how many are pulled; when it was done, None: not yet.

    inside: the tools in which one is now.
    """

    count: int
    laid_up: int = 0
    pulled: int = 0
    done_at: datetime | None = None
    inside: tuple[Hashable, ...] = ()

    @property
    def missing(self) -> int:
        """How many are still to be laid up."""
        return max(0, self.count - self.laid_up)


@dataclass(frozen=True, slots=True)
class _Part:
    """A part, or several that were made at once: how many are begun, how many came off whole, and when the last did."""

    laid_up: int
    pulled: int = 0
    off_at: datetime | None = None
    inside: tuple[Hashable, ...] = ()


def progress(begun: Iterable[Begun], count: int, since: datetime | None = None) -> Progress:
    """How far a part is that is wanted `count` times.

    The halves of a matched set make one part, which is begun with the first of them and pulled when it is off all. What
    was given up, lost, left in a tool that was retired, or followed by another lay-up without a pull counts for
    nothing: it is wanted as before.

    Parameters:
        begun [-]: every lay-up of the part since it is wanted, and in halves those of the day before, in any order.
        count [parts]: how many are wanted.
        since [UTC]: what was begun before counts for nothing; None: all counts.

    Returns:
        [-] how far it is.

    Source: the house's own rule.
    Example: of two that are wanted one lay-up that is not pulled yet is "1 of 2 laid up".
    """
    halves = (_half(one) for one in begun)
    parts = [_part([half.of for half in part]) for part in together(halves) if since is None or part[0].at >= since]
    pulled, done_at = 0, None
    for off_at, part in sorted(((part.off_at, part) for part in parts if part.off_at), key=lambda pair: pair[0]):
        pulled += part.pulled
        if done_at is None and pulled >= count:
            done_at = off_at
    inside = [part for part in parts if part.inside]
    laid_up = pulled + sum(part.laid_up for part in inside)
    return Progress(count, laid_up, pulled, done_at, tuple(tool for part in inside for tool in part.inside))


def _half(one: Begun) -> Half[Begun]:
    return Half(one, one.tool, one.group, one.at, one.ended_at, one.serials, one.ended not in ("", PULL))


def _part(halves: list[Begun]) -> _Part:
    """What the halves of a part say together; whichever says more knows how many it was."""
    if any(one.ended not in ("", PULL) for one in halves):
        return _Part(0)
    begun = max(one.parts for one in halves)
    if inside := tuple(one.tool for one in halves if not one.ended):
        return _Part(begun, inside=inside)
    is_lost = any(not one.pulled for one in halves)
    return _Part(begun, 0 if is_lost else max(one.pulled for one in halves), max(map(_end, halves)))


def _end(one: Begun) -> datetime:
    return one.ended_at or one.at
