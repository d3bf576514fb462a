"""Several chains of steps over a few hands: the best of a stated set of orders, and of every number of hands.

Handed out by one rule alone, one hand more can end later; so fewer than there are is tried as well. Up to three chains
are tried in every order, more of them as given and the other way round, longest and shortest first, and most work
first. In each order a chain is laid out whole before the next, and step by step in turn. Beside these stands the rule
of the floor: whatever can begin first does, that with the longest way to go before others. What none of them finds is
missed.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import permutations
from typing import NamedTuple

from tooling.calc.chain import Link, NoPlace, Slot, place

# So many chains are tried in every order.
EVERY_ORDER = 3

Starts = list[list[int]]


class Task(NamedTuple):
    """One chain in the direction of time. It is done `after` its last work, and never before `least`."""

    chain: list[Link]
    floors: list[int]
    after: int
    least: int

    def done(self, starts: Sequence[int]) -> int:
        """When it is done, with these starts."""
        return max(starts[-1] + self.chain[-1].work + self.after, self.least) if starts else self.least


class NoPlaceFor(Exception):
    """Chain number `task` finds no place even with all hands for itself."""

    def __init__(self, task: int, failed: NoPlace) -> None:
        super().__init__()
        self.task = task
        self.failed = failed


def alone(tasks: Sequence[Task], slot: Slot, limit: int) -> Starts:
    """Each chain as if it were the only one: nothing can be earlier.

    Parameters:
        tasks [us]: the chains.
        slot [-]: when the shop is open.
        limit [us]: after which nothing may begin.

    Returns:
        [us] the starts of each.

    Raises:
        NoPlaceFor: where one finds no place.
    """
    found: Starts = []
    for number, task in enumerate(tasks):
        starts = list[int]()
        try:
            place(task.chain, [*task.floors], slot, starts, len(task.chain), limit)
        except NoPlace as failed:
            raise NoPlaceFor(number, failed) from None
        found.append(starts)
    return found


def best(
    tasks: Sequence[Task], slot: Slot, hands: int, limit: int, by_themselves: Starts, allowed: Callable[[Starts], bool]
) -> Starts | None:
    """The starts with which the last of the chains is done first, of all that are tried.

    Parameters:
        tasks [us]: the chains.
        slot [-]: when the shop is open.
        hands [-]: how many steps may be worked on at once.
        limit [us]: after which nothing may begin.
        by_themselves [us]: what `alone` found.
        allowed [-]: whether starts may be taken at all.

    Returns:
        [us] the starts of each chain; None where nothing that was tried is allowed.

    Source: the house's own rules; serial generation of schedules from lists of activities, as in any textbook.
    """
    busy = sum(bool(task.chain) for task in tasks)
    if hands >= busy:
        return by_themselves if allowed(by_themselves) else None
    bound = _end(tasks, by_themselves)
    found: Starts | None = None
    for count in range(hands, 0, -1):
        for starts in _tried(tasks, slot, count, limit, by_themselves):
            if (found is None or _end(tasks, starts) < _end(tasks, found)) and allowed(starts):
                found = starts
                if _end(tasks, found) == bound:
                    return found
    return found


def at_once(tasks: Sequence[Task], starts: Starts) -> int:
    """How many hands are at work at one moment.

    Parameters:
        tasks [us]: the chains.
        starts [us]: their starts.

    Returns:
        [-] the most of them.
    """
    return _most(_booked(tasks, starts))


def _end(tasks: Sequence[Task], starts: Starts) -> int:
    return max(task.done(own) for task, own in zip(tasks, starts, strict=True))


def _tried(tasks: Sequence[Task], slot: Slot, hands: int, limit: int, by_themselves: Starts) -> Iterator[Starts]:
    lists: list[Sequencing] = [_first_come]
    for order in _orders(tasks, by_themselves):
        lists += [_whole(order), _in_turn(order)]
    for sequence in lists:
        try:
            yield _laid_out(tasks, slot, hands, limit, sequence)
        except NoPlace:
            continue


def _orders(tasks: Sequence[Task], by_themselves: Starts) -> list[tuple[int, ...]]:
    given = tuple(number for number, task in enumerate(tasks) if task.chain)
    if len(given) <= EVERY_ORDER:
        found = list(permutations(given))
    else:
        longest = sorted(given, key=lambda number: -tasks[number].done(by_themselves[number]))
        most = sorted(given, key=lambda number: -sum(link.work for link in tasks[number].chain))
        found = [given, given[::-1], tuple(longest), tuple(longest[::-1]), tuple(most)]
    # Chains that are alike change places without any difference.
    alike = [_likeness(task) for task in tasks]
    different: dict[tuple[object, ...], tuple[int, ...]] = {}
    for order in found:
        different.setdefault(tuple(alike[number] for number in order), order)
    return list(different.values())


def _likeness(task: Task) -> tuple[object, ...]:
    return (*((link.work, link.wait, link.longest) for link in task.chain), *task.floors, task.after, task.least)


# What is laid out next, given how many steps of each chain are: its number, and how many it then has; None at the end.
Sequencing = Callable[["_Board"], tuple[int, int] | None]


class _Board:
    """The chains as far as they are laid out."""

    def __init__(self, tasks: Sequence[Task], slot: Slot, hands: int) -> None:
        self.tasks = tasks
        self.starts: Starts = [[] for _task in tasks]
        self.floors = [[*task.floors] for task in tasks]
        self._slot, self._hands = slot, hands

    def free(self, number: int) -> Slot:
        """When a hand is free for a chain, beside all others."""
        others = [own if place != number else [] for place, own in enumerate(self.starts)]
        booked = _booked(self.tasks, others)

        def slot(begin: int, work: int) -> int | None:
            while (at := self._slot(begin, work)) is not None:
                later = _clash(booked, at, at + work, self._hands)
                if later is None:
                    return at
                begin = later
            return None

        return slot

    def open(self) -> list[int]:
        """The numbers of the chains that are not laid out to their ends."""
        return [n for n, task in enumerate(self.tasks) if len(self.starts[n]) < len(task.chain)]


def _laid_out(tasks: Sequence[Task], slot: Slot, hands: int, limit: int, sequence: Sequencing) -> Starts:
    board = _Board(tasks, slot, hands)
    while (following := sequence(board)) is not None:
        number, count = following
        chain = tasks[number].chain
        place(chain, board.floors[number], board.free(number), board.starts[number], count, limit)
    return board.starts


def _whole(order: Sequence[int]) -> Sequencing:
    """One chain after the other."""

    def following(board: _Board) -> tuple[int, int] | None:
        waiting = [number for number in order if not board.starts[number]]
        return (waiting[0], len(board.tasks[waiting[0]].chain)) if waiting else None

    return following


def _in_turn(order: Sequence[int]) -> Sequencing:
    """A step of each, then the next of each."""

    def following(board: _Board) -> tuple[int, int] | None:
        waiting = set(board.open())
        number = min((n for n in order if n in waiting), key=lambda n: len(board.starts[n]), default=None)
        return None if number is None else (number, len(board.starts[number]) + 1)

    return following


def _first_come(board: _Board) -> tuple[int, int] | None:
    """Whatever can begin first; of several that with the longest way to go."""
    waiting = [(*_earliest(board, number), number) for number in board.open()]
    if not waiting:
        return None
    number = min(waiting)[-1]
    return number, len(board.starts[number]) + 1


def _earliest(board: _Board, number: int) -> tuple[int, int]:
    task, starts = board.tasks[number], board.starts[number]
    floor, link = board.floors[number][len(starts)], task.chain[len(starts)]
    if starts:
        before = task.chain[len(starts) - 1]
        floor = max(floor, starts[-1] + before.work + before.wait)
    at = board.free(number)(floor, link.work) if link.work else floor
    way = sum(one.work + one.wait for one in task.chain[len(starts) :]) + task.after
    if at is None:
        raise NoPlace(len(starts), pushed=False)
    return at, -way


def _booked(tasks: Sequence[Task], starts: Starts) -> list[tuple[int, int]]:
    return [
        (start, start + link.work)
        for task, own in zip(tasks, starts, strict=True)
        for start, link in zip(own, task.chain, strict=False)
        if link.work
    ]


def _clash(booked: Sequence[tuple[int, int]], begin: int, end: int, hands: int) -> int | None:
    """The first moment after which it may be otherwise, where no hand is free throughout; else None."""
    beside = [(max(start, begin), stop) for start, stop in booked if start < end and stop > begin]
    if len(beside) < hands or _most(beside) < hands:
        return None
    return min(stop for _start, stop in beside)


def _most(spans: Sequence[tuple[int, int]]) -> int:
    return max((sum(start <= at < stop for start, stop in spans) for at, _stop in spans), default=0)
