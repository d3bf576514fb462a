"""How far a cut edge is off, developed along the outline: the line of the cut drawn straight, material left above it.

Dot = within; cross = out; ring and square = said against a gauge, without a number; small diamond = the check before.
The hatched bands are beyond the tolerance. What is farther off than the picture reaches stands at its rim, its stem
broken.
"""

from collections.abc import Sequence

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.drawing import ink
from tooling.drawing.lines import hatching
from trimfixtures.calc.edges import is_out
from trimfixtures.calc.points import Point
from trimfixtures.drawing.deviation_marks import cross, diamond, dot, ring, square, stem

PHONE, BESIDE, DESK = 340.0, 476.0, 720.0
_LEFT, _RIGHT, _TOP = 64.0, 20.0, 34.0
_HALF, _BAND = 74.0, 12.0
# The picture reaches so many tolerances, at most
_REACH = 4.0
_ROWS = 3


def deviations(
    points: Sequence[Point],
    limit: float | None,
    outline_length: float | None,
    units: str,
    *,
    before: Sequence[Point] = (),
    width: float = PHONE,
) -> SafeString:
    """The picture of one check; empty where nothing was said of any point.

    limit: how far off a point may be, either way, in mm. before: the same points as they were at an earlier check.
    """
    found = in_order(points)
    return _Drawn(found, limit, outline_length, units, before, width).svg() if found else SafeString("")


def in_order(points: Sequence[Point]) -> list[Point]:
    """The points that were looked at, as they stand in the picture: along the outline, else as they were said."""
    found = [one for one in points if one.deviation is not None or one.within is not None]
    return sorted(found, key=lambda one: one.along or 0) if _are_placed(found) else found


def _are_placed(points: Sequence[Point]) -> bool:
    return all(one.along is not None for one in points)


class _Drawn:
    """One picture: `x` and `y` turn mm into where that stands, `ink` is what is drawn."""

    def __init__(
        self,
        points: list[Point],
        limit: float | None,
        length: float | None,
        units: str,
        before: Sequence[Point],
        width: float,
    ) -> None:
        self.points, self.known = points, _are_placed(points)
        self.limit, self.units, self.width = limit, units, width
        self.measured = any(one.deviation is not None for one in points)
        self.half = _HALF if self.measured else 16.0
        self.before = {one.name.casefold(): one.deviation for one in before if one.deviation is not None}
        farthest = max((one.along or 0 for one in points), default=0)
        self.length = max(length or 0, farthest) or 1.0
        most = max((abs(one.deviation) for one in points if one.deviation is not None), default=0.0)
        self.reach = min(max(most, 1.5 * limit), _REACH * limit) if limit else most or 1.0
        self.middle = (_TOP if self.measured else 8.0) + _BAND + self.half
        self.ink: list[str] = []

    def x(self, number: int) -> float:
        """Where a point stands: along the outline, else one after the other."""
        along = self.points[number].along
        share = along / self.length if self.known and along is not None else (number + 0.5) / len(self.points)
        return _LEFT + share * (self.width - _LEFT - _RIGHT)

    def y(self, deviation: float) -> float:
        """How high a deviation stands; never beyond the rim."""
        return self.middle - max(-1.0, min(deviation / self.reach, 1.0)) * self.half

    def svg(self) -> SafeString:
        """The whole picture."""
        self._ground()
        for number, point in enumerate(self.points):
            self._earlier(number, point)
        self._values()
        for number, point in enumerate(self.points):
            self._mark(number, point)
        foot = self._legend(self._axis())
        return ink.picture(
            "deviations",
            _("How far the cut edge is off, along the outline"),
            self._told(),
            (self.width, foot),
            self.ink,
        )

    def _ground(self) -> None:
        """The line, the tolerance on both sides of it, and what lies beyond."""
        right, top, foot = self.width - _RIGHT + 12, self.middle - self.half - _BAND, self.middle + self.half + _BAND
        if self.measured:
            self.ink.append(ink.word(_LEFT - 12, top - 17, _("material left"), of=ink.SMALL))
            self.ink.append(ink.word(_LEFT - 12, foot + 24, _("cut too deep"), of=ink.SMALL))
        if self.measured and self.limit is not None:
            for sign, rim in ((1, top), (-1, foot)):
                y = self.y(sign * self.limit)
                beyond = ink.block(_LEFT - 12, min(y, rim), right, max(y, rim))
                self.ink.append(ink.line(hatching(beyond, 11), wide=0.7, soft=True))
                self.ink.append(ink.line(f"M{_LEFT - 12} {y:.1f}H{right}", chalk=True, dash="7 4"))
                self._at_side(y, ("+" if sign > 0 else "\N{MINUS SIGN}") + ink.size(self.limit, self.units))
        self.ink.append(ink.line(f"M{_LEFT - 12} {self.middle:.1f}H{right}", wide=2.4))
        if self.measured:
            self._at_side(self.middle, "0")

    def _at_side(self, y: float, words: str) -> None:
        of = min(ink.SMALL, ink.SMALL * (_LEFT - 18) / ink.long(words, ink.SMALL))
        self.ink.append(ink.word(_LEFT - 16, y + 4, words, anchor="end", of=round(of, 2)))

    def _earlier(self, number: int, point: Point) -> None:
        if (was := self.before.get(point.name.casefold())) is not None:
            x, y = self.x(number), self.y(was)
            self.ink.append(ink.group("was", diamond(x - 11, y)))

    def _mark(self, number: int, point: Point) -> None:
        x, out = self.x(number), is_out(point, self.limit)
        if point.deviation is None:
            self.ink.append(ink.group("out" if out else "in", (square if out else ring)(x, self.middle)))
            return
        y = self.y(point.deviation)
        broken = abs(point.deviation) > self.reach * 1.0001
        self.ink.append(ink.line(stem(x, self.middle, y, broken=broken), wide=2))
        self.ink.append(ink.group("out" if out else "in", (cross if out else dot)(x, y)))

    def _values(self) -> None:
        """What was found, beside each mark; where two would lie on each other, that which is out stands."""
        taken = [self._room(number) for number in range(len(self.points))]
        for number, point in sorted(enumerate(self.points), key=lambda one: not is_out(one[1], self.limit)):
            words, out = _said(point, self.units), is_out(point, self.limit)
            y = self.y(point.deviation or 0.0)
            y += 21 if (point.deviation or 0.0) < 0 else -11
            half = ink.long(words, ink.SMALL, bold=out) / 2
            x = max(_LEFT - 10 + half, min(self.x(number), self.width - half - 2))
            room = (x - half - 2, y - 12, x + half + 2, y + 3)
            if any(_meet(room, other) for other in taken):
                continue
            taken.append(room)
            self.ink.append(ink.word(x, y, words, anchor="middle", bold=out, of=ink.SMALL, boxed=True))

    def _room(self, number: int) -> tuple[float, float, float, float]:
        """What a mark takes."""
        x, y = self.x(number), self.y(self.points[number].deviation or 0.0)
        return x - 6, y - 6, x + 6, y + 6

    def _axis(self) -> float:
        """The points by name, as far as they fit, else by their number in the table; and the length all around."""
        top = self.middle + self.half + _BAND + (30 if self.measured else 4)
        names = [one.name for one in self.points]
        rows = self._in_rows(names) or self._in_rows([str(number) for number in range(1, len(names) + 1)])
        for number, (row, x, words) in enumerate(rows or []):
            y = top + 14 + row * 16
            tick = f"M{self.x(number):.1f} {top - 2:.1f}V{y - 11:.1f}"
            self.ink.append(ink.line(tick, wide=0.8, soft=True))
            self.ink.append(ink.word(x, y, words, anchor="middle", of=ink.SMALL, boxed=True))
        y = top + 14 + max((row for row, _x, _words in rows or []), default=0) * 16 + 18
        along = _("along the outline, %(length)s all around") if self.known else _("in the order of the check")
        self.ink.append(ink.word(_LEFT, y, along % {"length": ink.size(self.length, self.units)}, of=ink.SMALL))
        return y

    def _in_rows(self, words: list[str]) -> list[tuple[int, float, str]] | None:
        """Row and place of each so that none lies on another; None where that takes too many rows."""
        free, placed = [0.0] * _ROWS, {}
        for number in sorted(range(len(words)), key=self.x):
            half = ink.long(words[number], ink.SMALL) / 2
            x = max(half + 1, min(self.x(number), self.width - half - 1))
            row = next((row for row in range(_ROWS) if x - half >= free[row]), None)
            if row is None:
                return None
            free[row] = x + half + 8
            placed[number] = (row, x, words[number])
        return [placed[number] for number in range(len(words))]

    def _legend(self, y: float) -> float:
        """What the shapes mean: those that are drawn, as many in a row as fit."""
        numbers = [one for one in self.points if one.deviation is not None]
        well = _("within") if self.limit is not None else _("measured, without a tolerance")
        shown = [(dot, well)] if any(not is_out(one, self.limit) for one in numbers) else []
        shown += [(cross, _("out"))] if any(is_out(one, self.limit) for one in numbers) else []
        shown += [(ring, _("in, by gauge"))] if any(one.deviation is None and one.within for one in self.points) else []
        shown += (
            [(square, _("out, by gauge"))]
            if any(one.within is False and one.deviation is None for one in self.points)
            else []
        )
        shown += (
            [(diamond, _("the check before"))] if any(one.name.casefold() in self.before for one in self.points) else []
        )
        x, y = _LEFT, y + 20
        for mark, words in shown:
            wide = 18 + ink.long(words, ink.SMALL)
            if x > _LEFT and x + wide > self.width:
                x, y = _LEFT, y + 18
            self.ink += [mark(x + 6, y - 4), ink.word(x + 18, y, words, of=ink.SMALL)]
            x += wide + 16
        return y + 8

    def _told(self) -> str:
        """The same in sentences, point by point."""
        out = sum(is_out(one, self.limit) for one in self.points)
        said = [ngettext("%(count)d point, %(out)d out.", "%(count)d points, %(out)d out.", len(self.points)) % {
            "count": len(self.points), "out": out,
        }]  # fmt: skip
        return " ".join([*said, *(f"{one.name}: {_said(one, self.units)}." for one in self.points)])


def _said(point: Point, units: str) -> str:
    if point.deviation is None:
        return _("in") if point.within else _("out")
    sign = "+" if point.deviation > 0 else "\N{MINUS SIGN}" if point.deviation < 0 else ""
    return sign + ink.size(abs(point.deviation), units).rpartition("\N{NO-BREAK SPACE}")[0]


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
