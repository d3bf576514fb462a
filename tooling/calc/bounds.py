"""Before which several chains of steps cannot be done: each with hands enough, and all by the hours of the hands."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from itertools import accumulate
from typing import Any, NamedTuple

from tooling.calc.chain import Link, Slot
from tooling.calc.hours import DAY, HORIZON

# After every moment.
NEVER = 1 << 80
_FIRST_LOOK = 8 * DAY


class Time(NamedTuple):
    """The shop's hours in the direction of time: when hands are free, and the windows between two moments, in order.

    After the limit nothing may begin. `known`: what was found with these hours before.
    """

    slot: Slot
    between: Callable[[int, int], list[tuple[int, int]]]
    limit: int
    known: dict[Any, Any]


class Task(NamedTuple):
    """One chain in the direction of time. It is done `after` its last work, and never before `least`.

    Where there are ceilings, no step may begin after its own; None is no limit.
    """

    chain: list[Link]
    floors: list[int]
    after: int
    least: int
    ceilings: Sequence[int | None] = ()

    def done(self, starts: Sequence[int]) -> int:
        """When it is done, with these starts."""
        return max(starts[-1] + self.chain[-1].work + self.after, self.least) if starts else self.least

    @property
    def likeness(self) -> tuple[object, ...]:
        """The same for two whose starts can be changed for each other."""
        links = tuple((link.work, link.wait, link.longest) for link in self.chain)
        return links, tuple(self.floors), self.after, self.least, tuple(self.ceilings)

    def keeps(self, starts: Sequence[int]) -> bool:
        """Whether no step begins after its ceiling."""
        return all(ceiling is None or at <= ceiling for at, ceiling in zip(starts, self.ceilings, strict=False))


class Ways:
    """How the chains go on where hands are enough: with fewer it is never earlier.

    `lengths` is what lies between the start of each step and when its chain is done, without regard to shop hours.
    """

    def __init__(self, tasks: Sequence[Task], time: Time, by_themselves: Sequence[Sequence[int]]) -> None:
        self._tasks, self._time, self._alone = tasks, time, by_themselves
        kinds: dict[object, int] = {}
        self._kinds = [kinds.setdefault(task.likeness, len(kinds)) for task in tasks]
        self._known: dict[tuple[int, int, int], int] = {}
        self.lengths = [[*accumulate((o.work + o.wait for o in t.chain[::-1]), initial=t.after)][:0:-1] for t in tasks]
        self._end = max(task.done(own) for task, own in zip(tasks, by_themselves, strict=True))
        self._opens, self._passed = self._hours()

    def done(self, number: int, place: int, start: int) -> int:
        """Before which a chain is not done where a step of it begins at that moment."""
        key = self._kinds[number], place, start
        found = self._known.get(key)
        if found is None:
            task = self._tasks[number]
            link = task.chain[place]
            end = start + link.work
            if place + 1 == len(task.chain):
                found = end + task.after
            else:
                found = self._from(number, place + 1, max(task.floors[place + 1], end + link.wait))
            self._known[key] = found
        return found

    def bound(self, hands: int) -> int:
        """Before which not all of them are done with so many hands.

        The hands have to get through all steps from one on to another, and behind the last of them its chain goes on.
        """
        steps = max(map(len, self._alone))
        return max(
            self._end, *(self._through(first, last, hands) for first in range(steps) for last in range(first, steps))
        )

    def _through(self, first: int, last: int, hands: int) -> int:
        there = [number for number, own in enumerate(self._alone) if len(own) > first]
        work = sum(link.work for number in there for link in self._tasks[number].chain[first : last + 1])
        over = self._over(min(self._alone[number][first] for number in there), -(-work // hands))
        ends = []
        for number in there:
            place = min(last, len(self._alone[number]) - 1)
            start = max(self._alone[number][place], over - self._tasks[number].chain[place].work)
            ends.append(self._from(number, place, start))
        return min(ends)

    def _from(self, number: int, place: int, floor: int) -> int:
        work = self._tasks[number].chain[place].work
        at = self._time.slot(floor, work) if work else floor
        return NEVER if at is None else self.done(number, place, at)

    def _hours(self) -> tuple[list[int], list[int]]:
        """When the windows open, and for how long the shop was open before each: as far as one hand needs them."""
        heads = [at for own in self._alone for at in own]
        begin, last = min(heads), max(heads)
        work = sum(link.work for task in self._tasks for link in task.chain)
        reach = _FIRST_LOOK
        while True:
            windows = self._time.between(begin, last + reach)
            if reach > HORIZON or sum(close - max(open_, last) for open_, close in windows if close > last) >= work:
                passed = accumulate((close - open_ for open_, close in windows), initial=0)
                return [*(open_ for open_, _close in windows), last + reach], [*passed]
            reach += reach

    def _over(self, begin: int, work: int) -> int:
        """Before which so much work of one hand is not over."""
        opens, passed = self._opens, self._passed
        if not work:
            return begin
        place = bisect_right(opens, begin) - 1
        goal = work + (min(passed[place] + begin - opens[place], passed[place + 1]) if place >= 0 else 0)
        place = bisect_left(passed, goal) - 1
        return opens[place] + goal - passed[place] if place + 1 < len(passed) else opens[-1]
