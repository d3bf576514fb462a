"""How far a wanted part is: what was laid up since it is wanted, and what of that came off."""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from datetime import datetime

PULL, ABANDONED, LAY_UP = "pull", "abandoned", "lay_up"


@dataclass(frozen=True, slots=True)
class Begun:
    """One lay-up in one tool, and how it ended: with a pull, given up, with another lay-up, or not yet ("").

    group: the matched set of the tool, "" for none. parts: how many were begun, by their serial numbers. pulled: how
    many came off and are whole.
    """

    tool: Hashable
    group: str
    at: datetime
    parts: int = 1
    ended: str = ""
    ended_at: datetime | None = None
    pulled: int = 0


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


def progress(begun: Iterable[Begun], count: int) -> Progress:
    """How far a part is that is wanted `count` times.

    The halves of a matched set make one part: the first lay-up in each of them is the first part, and it is pulled
    when it is off all of them. What was given up, lost, or followed by another lay-up without a pull counts for
    nothing: it is wanted as before.

    Parameters:
        begun [-]: every lay-up of the part since it is wanted, in any order.
        count [parts]: how many are wanted.

    Returns:
        [-] how far it is.

    Source: the house's own rule.
    Example: of two that are wanted one lay-up that is not pulled yet is "1 of 2 laid up".
    """
    one_each = [_one_part(halves) for halves in _by_part(begun)]
    inside = [one for one in one_each if not one[0].ended]
    off = sorted((one for one in one_each if one[0].ended == PULL and one[0].pulled), key=_ended)
    pulled, done_at = 0, None
    for one, _tools in off:
        pulled += one.pulled
        if done_at is None and pulled >= count:
            done_at = one.ended_at
    laid_up = pulled + sum(one.parts for one, _tools in inside)
    return Progress(count, laid_up, pulled, done_at, tuple(tool for _one, tools in inside for tool in tools))


def _by_part(begun: Iterable[Begun]) -> list[list[Begun]]:
    """The lay-ups that make one part stand together: the nth in each half of a set."""
    by_tool: dict[Hashable, int] = {}
    found: dict[tuple[Hashable, int], list[Begun]] = {}
    for one in sorted(begun, key=lambda one: one.at):
        nth = by_tool[one.tool] = by_tool.get(one.tool, -1) + 1
        found.setdefault(((one.group,) if one.group else one.tool, nth), []).append(one)
    return list(found.values())


def _one_part(halves: list[Begun]) -> tuple[Begun, list[Hashable]]:
    """One lay-up that stands for all of them, and the tools in which the part still is."""
    gone = next((one for one in halves if one.ended not in ("", PULL)), None)
    if gone is not None:
        return gone, []
    tools = [one.tool for one in halves if not one.ended]
    if tools:
        return next(one for one in halves if not one.ended), tools
    last = max(halves, key=lambda one: one.ended_at or one.at)
    least = min(halves, key=lambda one: one.pulled)
    return (last if last.pulled == least.pulled else least), []


def _ended(one: tuple[Begun, list[Hashable]]) -> datetime:
    return one[0].ended_at or one[0].at
