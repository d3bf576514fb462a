"""Readings against the pulls by then, with the shop's limit, and what was done to the surface in between.

Dot = the mean of a visit, the stroke through it from its lowest spot to its highest; small dots = visits before the
last work on the surface; upright dashes = that work; hatched = beyond the limit. The straight line is drawn only where
it may be followed, dotted beyond the last visit, with the earliest and the latest that it reaches the limit.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, log10

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from tooling.drawing import ink
from tooling.drawing.lines import hatching

PHONE, DESK = 340.0, 640.0
# More visits are not told apart in a picture: the newest are drawn.
MOST = 150
_RIGHT, _TOP = 14.0, 40.0


@dataclass(frozen=True, slots=True)
class Mark:
    """A visit: at how many pulls, its mean, its lowest and its highest spot."""

    pulls: float
    mean: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Meets:
    """Where the line reaches the limit, at the earliest, and at the latest, in pulls."""

    at: float
    early: float
    late: float


@dataclass(frozen=True, slots=True)
class Trend:
    """What is drawn, in its reader's unit. earlier: before the last work. works: at how many pulls, what was done.

    line: intercept and slope, None where it may not be followed. along: what is counted. now: of that by now.
    """

    title: str
    told: str
    unit: str
    along: str
    now: float
    current: Sequence[Mark]
    earlier: Sequence[Sequence[Mark]] = ()
    works: Sequence[tuple[float, str]] = ()
    limit: float | None = None
    limit_said: str = ""
    worse: str = "up"
    line: tuple[float, float] | None = None
    meets: Meets | None = None


def trend(shown: Trend, width: float = PHONE, height: float = 170.0, *, legend: bool = True) -> SafeString:
    """The picture; empty where there is no visit. height: of the field alone."""
    return _Drawn(shown, width, height).svg(legend=legend) if shown.current or any(shown.earlier) else SafeString("")


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Round numbers within these two, three at least and about so many at most."""
    rough = (high - low) / most
    unit = 10.0 ** floor(log10(rough))
    step = next(one * unit for one in (1, 2, 2.5, 5, 10) if one * unit >= rough * 0.999)
    first = floor(low / step + 0.999_999)
    return [number * step for number in range(first, floor(high / step + 1e-9) + 1)]


def said(number: float) -> str:
    """A number beside an axis: without the noise of arithmetic."""
    text = f"{number:.10g}"
    return text.replace("-", "\N{MINUS SIGN}")


class _Drawn:
    """One picture: `x` and `y` say where a number stands, `ink` is what is drawn."""

    def __init__(self, shown: Trend, width: float, height: float) -> None:
        self.shown, self.width, self.height = shown, width, height
        self.ink: list[str] = []
        marks = [one for segment in (*shown.earlier, shown.current) for one in segment]
        heights = [number for one in marks for number in (one.low, one.high)]
        heights += [shown.limit] if shown.limit is not None else []
        self.low, self.high = _roomy(min(heights), max(heights))
        self.first = min(one.pulls for one in marks)
        last = max(*(one.pulls for one in marks), shown.now)
        self.end = max(last, self._meets_until(last))
        if self.end - self.first < 1:
            self.first, self.end = self.first - 1, self.end + 1
        self.sides = ticks(self.low, self.high, 5)
        self.left = 12 + max(ink.long(said(one), ink.SMALL) for one in self.sides)

    def _meets_until(self, last: float) -> float:
        """As far as the picture reaches for where the line meets the limit: no farther than once more its own."""
        meets = self.shown.meets
        return min(meets.late, max(meets.early, last + (last - self.first))) if meets is not None else last

    def x(self, pulls: float) -> float:
        """Where a count stands."""
        return (
            self.left + 8 + (pulls - self.first) / (self.end - self.first) * (self.width - self.left - 8 - _RIGHT - 8)
        )

    def y(self, number: float) -> float:
        """How high a reading stands."""
        return _TOP + (self.high - number) / (self.high - self.low) * self.height

    def svg(self, *, legend: bool) -> SafeString:
        """The whole picture."""
        self._field()
        self._limit()
        self._works()
        self._line()
        self._visits()
        foot = _TOP + self.height + 38
        foot = self._legend(foot) if legend else foot
        return ink.picture("trend", self.shown.title, self.shown.told, (self.width, foot), self.ink)

    def _field(self) -> None:
        foot, right = _TOP + self.height, self.width - _RIGHT
        self.ink.append(ink.word(4, 14, self.shown.unit, of=ink.SMALL))
        self.ink.append(ink.line(f"M{self.left:.1f} {_TOP:.1f}V{foot:.1f}H{right:.1f}", wide=1.6))
        for number in self.sides:
            y = self.y(number)
            self.ink.append(ink.line(f"M{self.left - 4:.1f} {y:.1f}h4", wide=1.2))
            self.ink.append(ink.word(self.left - 7, y + 4, said(number), anchor="end", of=ink.SMALL))
        most = 8 if self.width > PHONE else 4
        for count in (one for one in ticks(self.first, self.end, most) if one >= 0 and one == int(one)):
            x = self.x(count)
            self.ink.append(ink.line(f"M{x:.1f} {foot:.1f}v4", wide=1.2))
            self.ink.append(ink.word(x, foot + 17, said(count), anchor="middle", of=ink.SMALL))
        self.ink.append(ink.word(right, foot + 33, self.shown.along, anchor="end", of=ink.SMALL))

    def _limit(self) -> None:
        shown, right = self.shown, self.width - _RIGHT
        if shown.limit is None:
            return
        y = self.y(shown.limit)
        rim = _TOP if shown.worse == "up" else _TOP + self.height
        if abs(rim - y) > 2:
            beyond = ink.block(self.left, min(y, rim), right, max(y, rim))
            self.ink.append(ink.line(hatching(beyond, 11), wide=0.6, soft=True))
        self.ink.append(ink.line(f"M{self.left:.1f} {y:.1f}H{right:.1f}", chalk=True, wide=2, dash="7 4"))
        above = y - 5 if shown.worse == "down" else y + 15
        self.ink.append(ink.word(self.left + 8, above, shown.limit_said, of=ink.SMALL, boxed=True))

    def _works(self) -> None:
        """What was done, above where it was; words that would lie on others are left to the table."""
        free, foot = 0.0, _TOP + self.height
        for pulls, words in self.shown.works:
            x = self.x(pulls)
            self.ink.append(ink.line(f"M{x:.1f} {_TOP - 8:.1f}V{foot:.1f}", wide=1.4, dash="2 4"))
            half = ink.long(words, ink.SMALL) / 2
            stands = ink.within(x, words, self.width, of=ink.SMALL)
            if stands - half > free:
                self.ink.append(ink.word(stands, _TOP - 12, words, anchor="middle", of=ink.SMALL))
                free = stands + half + 6

    def _line(self) -> None:
        """Drawn through as far as it was measured, dotted beyond."""
        shown = self.shown
        if shown.line is None or not shown.current:
            return
        intercept, slope = shown.line
        first, last = shown.current[0].pulls, shown.current[-1].pulls
        self.ink.append(ink.line(self._way(intercept, slope, first, last), wide=1.6, chalk=True))
        if shown.meets is None or shown.limit is None:
            return
        until = min(shown.meets.at, self.end)
        self.ink.append(ink.line(self._way(intercept, slope, last, until), wide=1.6, chalk=True, dash="1 5"))
        self._reach(shown.meets, self.y(shown.limit))

    def _way(self, intercept: float, slope: float, first: float, last: float) -> str:
        ends = ((one, self.y(intercept + slope * one)) for one in (first, last))
        return "M" + "L".join(f"{self.x(one):.1f} {y:.1f}" for one, y in ends)

    def _reach(self, meets: Meets, y: float) -> None:
        """The earliest and the latest as a bracket on the limit; an arrow where the latest is not in the picture."""
        early, late = self.x(max(meets.early, self.first)), self.x(min(meets.late, self.end))
        is_in = meets.late <= self.end
        ends = f"M{early:.1f} {y - 6:.1f}v12M{early:.1f} {y:.1f}H{late:.1f}"
        ends += f"M{late:.1f} {y - 6:.1f}v12" if is_in else f"M{late - 7:.1f} {y - 5:.1f}L{late:.1f} {y:.1f}l-7 5"
        self.ink.append(ink.line(ends, wide=2.4, chalk=True))
        if meets.at <= self.end:
            x = self.x(meets.at)
            way = f"M{x - 5:.1f} {y - 5:.1f}l10 10m0 -10l-10 10"
            self.ink.append(ink.line(way, wide=2.4, chalk=True))

    def _visits(self) -> None:
        left = MOST - len(self.shown.current)
        for marks in reversed(self.shown.earlier):
            newest = list(marks)[-left:] if left > 0 else []
            left -= len(newest)
            self.ink.append(ink.group("was", self._joined(newest, dot=4.5, soft=True)))
        self.ink.append(ink.group("now", self._joined(list(self.shown.current)[-MOST:], dot=8.5)))

    def _joined(self, marks: Sequence[Mark], *, dot: float, soft: bool = False) -> str:
        if not marks:
            return ""
        places = [(self.x(one.pulls), self.y(one.mean)) for one in marks]
        # A line of no length with round ends is a dot: far shorter than a circle each.
        dots = "".join(f"M{x:.1f} {y:.1f}h.01" for x, y in places)
        drawn = ink.line("".join(self._spread(marks)), wide=1.4, soft=soft) if any(self._spread(marks)) else ""
        if soft and len(places) > 1:
            drawn += ink.line("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in places), wide=1, soft=True)
        return drawn + ink.line(dots, wide=dot, soft=soft)

    def _spread(self, marks: Iterable[Mark]) -> list[str]:
        return [
            f"M{self.x(one.pulls):.1f} {self.y(one.low):.1f}V{self.y(one.high):.1f}"
            for one in marks
            if one.high > one.low
        ]

    def _legend(self, y: float) -> float:
        """What the shapes mean: those that are drawn, as many in a row as fit."""
        shown = self.shown
        marks = [one for segment in (*shown.earlier, shown.current) for one in segment]
        parts = [(_dot, _("mean of a visit"))] if shown.current else []
        parts += [(_spot, _("before the last work on it"))] if any(shown.earlier) else []
        parts += [(_stroke, _("lowest to highest spot"))] if any(one.high > one.low for one in marks) else []
        parts += [(_through, _("straight line through them"))] if shown.line is not None else []
        parts += [(_bracket, _("earliest to latest at the limit"))] if shown.meets is not None else []
        x, y = 8.0, y + 20
        for drawn, words in parts:
            wide = 26 + ink.long(words, ink.SMALL)
            if x > 8 and x + wide > self.width:
                x, y = 8.0, y + 18
            self.ink += [drawn(x + 9, y - 4), ink.word(x + 24, y, words, of=ink.SMALL)]
            x += wide + 14
        return y + 10


def _roomy(low: float, high: float) -> tuple[float, float]:
    """A little more than what lies in it; a width of its own where all is one number."""
    room = (high - low) * 0.12 or abs(high) * 0.1 or 1.0
    # No reading below nothing is promised where none was read.
    return (max(low - room, 0.0) if low >= 0 else low - room), high + room


def _dot(x: float, y: float) -> str:
    return ink.line(f"M{x:.1f} {y:.1f}h.01", wide=8.5)


def _spot(x: float, y: float) -> str:
    return ink.line(f"M{x - 5:.1f} {y:.1f}h.01m10 0h.01", wide=4.5, soft=True) + ink.line(
        f"M{x - 5:.1f} {y:.1f}h10", wide=1, soft=True
    )


def _stroke(x: float, y: float) -> str:
    return ink.line(f"M{x:.1f} {y - 7:.1f}v14", wide=1.4)


def _through(x: float, y: float) -> str:
    return ink.line(f"M{x - 9:.1f} {y + 3:.1f}l18 -6", wide=1.6, chalk=True)


def _bracket(x: float, y: float) -> str:
    return ink.line(
        f"M{x - 8:.1f} {y - 5:.1f}v10M{x - 8:.1f} {y:.1f}h16M{x + 8:.1f} {y - 5:.1f}v10", wide=2.4, chalk=True
    )
