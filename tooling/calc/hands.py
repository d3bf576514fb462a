"""How many hands are at work along the time line, and when one more is free."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from tooling.calc.chain import Link, Slot

# Before every moment.
_EVER = -(1 << 80)


class Hands:
    """A number of hands, booked span by span. Time is cut where their number at work changes."""

    def __init__(self, slot: Slot, count: int) -> None:
        self._slot, self._count = slot, count
        self._cuts = [_EVER]
        self._at_work = [0]
        self.most = 0

    def free(self, begin: int, work: int) -> int | None:
        """The first start from `begin` on at which the shop is open and a hand is free throughout, as a Slot."""
        cuts, at_work, count = self._cuts, self._at_work, self._count
        while (at := self._slot(begin, work)) is not None:
            # From behind: where none is free later, none of the starts before that will do.
            place, first = bisect_left(cuts, at + work) - 1, bisect_right(cuts, at) - 1
            while place >= first and at_work[place] < count:
                place -= 1
            if place < first:
                return at
            begin = cuts[place + 1]
        return None

    def book(self, chain: Sequence[Link], starts: Sequence[int], sign: int = 1) -> None:
        """Takes a hand for these starts of a chain; with -1 gives it back."""
        for link, start in zip(chain, starts, strict=False):
            if link.work:
                first, last = self._cut(start), self._cut(start + link.work)
                for place in range(first, last):
                    self._at_work[place] += sign
                self.most = max(self.most, *self._at_work[first:last])

    def _cut(self, at: int) -> int:
        place = bisect_left(self._cuts, at)
        if place == len(self._cuts) or self._cuts[place] != at:
            self._cuts.insert(place, at)
            self._at_work.insert(place, self._at_work[place - 1])
        return place
