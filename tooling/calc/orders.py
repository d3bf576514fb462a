"""Several chains of steps over a few hands: the best of a stated set of orders, and of every number of hands.

Handed out by one rule alone, one hand more can end later; so fewer than there are is tried as well. Up to three chains
are tried in every order, more of them as given and the other way round, longest and shortest first, and most work
first. In each order a chain is laid out whole before the next, and step by step in turn. Beside these stands the rule
of the floor: whatever can begin first does, that with the longest way to go before others. What none of them finds is
missed.

That is eleven trials at most for each number of hands from four chains on. One is given up, or left out, only where it
cannot end before what was found already: nothing is missed by that, and a set alone and among many comes out the same.
"""

from collections.abc import Sequence
from functools import cache
from heapq import heapify, heappop, heapreplace
from itertools import permutations

from tooling.calc.bounds import Task, Time, Ways
from tooling.calc.chain import NoPlace, place
from tooling.calc.hands import Hands

# So many chains are tried in every order.
EVERY_ORDER = 3

Starts = list[list[int]]
# The numbers of the chains, once for each of their steps; None for the rule of the floor.
Sequencing = tuple[int, ...] | None


class NoPlaceFor(Exception):
    """Chain number `task` finds no place even with all hands for itself."""

    def __init__(self, task: int, failed: NoPlace) -> None:
        super().__init__()
        self.task = task
        self.failed = failed


def alone(tasks: Sequence[Task], time: Time) -> Starts:
    """Each chain as if it were the only one: nothing can be earlier.

    Parameters:
        tasks [us]: the chains.
        time [us]: when the shop is open.

    Returns:
        [us] the starts of each.

    Raises:
        NoPlaceFor: where one finds no place.
    """
    found: Starts = []
    for number, task in enumerate(tasks):
        starts = list[int]()
        try:
            place(task.chain, [*task.floors], time.slot, starts, len(task.chain), time.limit)
        except NoPlace as failed:
            raise NoPlaceFor(number, failed) from None
        found.append(starts)
    return found


def best(tasks: Sequence[Task], time: Time, hands: int, by_themselves: Starts) -> Starts | None:
    """The starts with which the last of the chains is done first, of all that are tried.

    Parameters:
        tasks [us]: the chains.
        time [us]: when the shop is open.
        hands [-]: how many steps may be worked on at once.
        by_themselves [us]: what `alone` found.

    Returns:
        [us] the starts of each chain; None where nothing that was tried keeps the ceilings.

    Source: the house's own rules; serial generation of schedules from lists of activities, as in any textbook.
    """
    if hands >= sum(bool(task.chain) for task in tasks):
        return by_themselves
    # Equal sets are worked out once.
    key = hands, time.limit, *(task.likeness for task in tasks)
    if key not in time.known:
        time.known[key] = _searched(tasks, time._replace(slot=cache(time.slot)), hands, by_themselves)
    found: Starts | None = time.known[key]
    return found


def _searched(tasks: Sequence[Task], time: Time, hands: int, by_themselves: Starts) -> Starts | None:
    ways = Ways(tasks, time, by_themselves)
    found: Starts | None = None
    end: int | None = None
    # How many hands the trial of each wanted at once: so many or more make no difference.
    wanted = dict.fromkeys(_sequences(tasks, by_themselves), hands + 1)
    for count in range(hands, 0, -1):
        bound = ways.bound(count)
        for sequence, most in wanted.items():
            if end is not None and end <= bound:
                return found
            if most > count:
                board = _Board(tasks, time, count, ways)
                if board.laid_out(sequence, end):
                    found, end = board.starts, _end(tasks, board.starts)
                wanted[sequence] = board.hands.most
    return found


def at_once(tasks: Sequence[Task], starts: Starts) -> int:
    """How many hands are at work at one moment.

    Parameters:
        tasks [us]: the chains.
        starts [us]: their starts.

    Returns:
        [-] the most of them.
    """
    hands = Hands(lambda begin, work: begin, len(tasks))
    for task, own in zip(tasks, starts, strict=True):
        hands.book(task.chain, own)
    return hands.most


def _end(tasks: Sequence[Task], starts: Starts) -> int:
    return max(task.done(own) for task, own in zip(tasks, starts, strict=True))


def _sequences(tasks: Sequence[Task], by_themselves: Starts) -> list[Sequencing]:
    found: list[Sequencing] = [None]
    for order in _orders(tasks, by_themselves):
        whole = [number for number in order for _link in tasks[number].chain]
        steps = range(max(len(tasks[number].chain) for number in order))
        in_turn = [number for step in steps for number in order if step < len(tasks[number].chain)]
        found += [tuple(whole), tuple(in_turn)]
    # Chains that are alike change places without any difference.
    alike = [task.likeness for task in tasks]
    different: dict[object, Sequencing] = {}
    for one in found:
        different.setdefault(None if one is None else tuple(alike[number] for number in one), one)
    return list(different.values())


def _orders(tasks: Sequence[Task], by_themselves: Starts) -> list[tuple[int, ...]]:
    given = tuple(number for number, task in enumerate(tasks) if task.chain)
    if len(given) <= EVERY_ORDER:
        return list(permutations(given))
    longest = sorted(given, key=lambda number: -tasks[number].done(by_themselves[number]))
    most = sorted(given, key=lambda number: -sum(link.work for link in tasks[number].chain))
    return [given, given[::-1], tuple(longest), tuple(longest[::-1]), tuple(most)]


class _Board:
    """The chains as far as they are laid out."""

    def __init__(self, tasks: Sequence[Task], time: Time, count: int, ways: Ways) -> None:
        self.hands = Hands(time.slot, count)
        self.starts: Starts = [[] for _task in tasks]
        self._tasks, self._limit, self._ways = tasks, time.limit, ways
        self._floors = [[*task.floors] for task in tasks]

    def laid_out(self, sequence: Sequencing, before: int | None) -> bool:
        """Lays all of them out; False where they find no place, or are not all done before that moment."""
        try:
            if not (self._first_come(before) if sequence is None else self._in_order(sequence, before)):
                return False
        except NoPlace:
            return False
        # One that was moved on is looked at once more.
        return all(task.keeps(own) for task, own in zip(self._tasks, self.starts, strict=True))

    def _in_order(self, sequence: Sequence[int], before: int | None) -> bool:
        return all(self._goes_on(number, before) for number in sequence)

    def _goes_on(self, number: int, before: int | None) -> bool:
        """Lays the next step of a chain out; whether it can still be done before that moment, and may be so late."""
        own, (chain, *_, ceilings) = self.starts[number], self._tasks[number]
        count = len(own)
        # Steps that may have to be moved on give their hands back first.
        again = count
        while again and chain[again - 1].longest is not None:
            again -= 1
        self.hands.book(chain[again:], own[again:], -1)
        place(chain, self._floors[number], self.hands.free, own, count + 1, self._limit)
        self.hands.book(chain[again:], own[again:])
        ceiling = ceilings[count] if ceilings else None
        if ceiling is not None and own[-1] > ceiling:
            return False
        return before is None or self._ways.done(number, count, own[-1]) < before

    def _first_come(self, before: int | None) -> bool:
        """Whatever can begin first goes on; of several that with the longest way to go."""
        waiting = self._waiting()
        while waiting:
            at, way, number = waiting[0]
            own, chain = self.starts[number], self._tasks[number].chain
            work = chain[len(own)].work
            begin = self.hands.free(at, work) if work else at
            if begin is None:
                return False
            # What was booked since may have moved it: then another may be the first.
            if begin > at:
                heapreplace(waiting, (begin, way, number))
                continue
            laid = [*own]
            if not self._goes_on(number, before):
                return False
            if own[:-1] != laid:
                waiting = self._waiting()
            elif len(own) < len(chain):
                heapreplace(waiting, self._next(number))
            else:
                heappop(waiting)
        return True

    def _waiting(self) -> list[tuple[int, int, int]]:
        every = enumerate(self._tasks)
        waiting = [self._next(number) for number, task in every if len(self.starts[number]) < len(task.chain)]
        heapify(waiting)
        return waiting

    def _next(self, number: int) -> tuple[int, int, int]:
        """Before which its next step does not begin, and how long a way it then has to go, the longest first."""
        task, own = self._tasks[number], self.starts[number]
        floor = self._floors[number][len(own)]
        if own:
            last = task.chain[len(own) - 1]
            floor = max(floor, own[-1] + last.work + last.wait)
        return floor, -self._ways.lengths[number][len(own)], number
