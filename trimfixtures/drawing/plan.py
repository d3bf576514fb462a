"""The part from above: its outline, the cuts numbered in their order, and where its edge is checked.

Without an outline the cuts that have a place stand alone, to scale among themselves.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, dist, hypot, pi, sin
from typing import Any

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from tooling.drawing import ink
from trimfixtures.calc.outline import Outline
from trimfixtures.calc.points import Point
from trimfixtures.drawing.deviation_marks import cross

WIDE = 340.0
_MARGIN, _HIGH = 46.0, 250.0
# Less than that and the number of a cut stands beside it
_ROOM = 30.0
Box = tuple[float, float, float, float]


def plan(
    outline: Outline | None,
    cuts: Sequence[Any],
    points: Sequence[Point],
    *,
    datum: str = "",
    out: Sequence[Point] = (),
) -> SafeString:
    """The picture; empty where there is neither an outline nor a cut that has a place and a size.

    cuts: rows of `selectors.cuts` in cutting order. datum: what the trim mask sits by, in the shop's words. out: those
    of the points that a check found out.
    """
    drawn = _Drawn(outline, cuts, points if outline is not None else (), out)
    return drawn.svg(datum) if drawn.is_any else SafeString("")


def millimetre(outline: Outline | None, cuts: Sequence[Any] = ()) -> float | None:
    """How much of the picture a millimetre takes; None where there is no picture."""
    drawn = _Drawn(outline, cuts, ())
    return drawn.scale if drawn.is_any else None


class _Drawn:
    """One plan: `at` turns mm into where that stands; what words took is kept free."""

    def __init__(
        self, outline: Outline | None, cuts: Sequence[Any], points: Sequence[Point], out: Sequence[Point] = ()
    ) -> None:
        # Points and an edge are drawn only where there is one.
        self.outline: Any = outline
        self.cuts, self.points = cuts, [one for one in points if one.along is not None]
        self.out = out
        box = outline.bounds if outline is not None else _around_all(cuts)
        self.is_any = box is not None
        left, low, right, high = box or (0.0, 0.0, 1.0, 1.0)
        room = WIDE - 2 * _MARGIN
        self.scale = min(room / max(right - left, 1e-9), _HIGH / max(high - low, 1e-9))
        self.zero = (
            _MARGIN + (room - (right - left) * self.scale) / 2 - left * self.scale,
            _MARGIN + high * self.scale,
        )
        self.foot = 2 * _MARGIN + (high - low) * self.scale
        self.ink: list[str] = []
        self.taken: list[Box] = []
        self.edge: list[ink.Point] = []

    def at(self, x: float, y: float) -> ink.Point:
        """Where a place of the part stands: y upward."""
        return self.zero[0] + x * self.scale, self.zero[1] - y * self.scale

    def svg(self, datum: str) -> SafeString:
        """The whole picture."""
        if self.outline is not None:
            corners = [self.at(*spot) for spot in self.outline.points]
            self.edge = [spot for pair in pairwise([*corners, corners[0]]) for spot in _between(*pair)]
            self.ink.append(ink.shape(corners, wide=2.4))
        for cut in self.cuts:
            if _placed(cut.feature):
                self._shape(cut.feature, cut.cutter_mm)
        for point in self.points:
            self._point(point)
        for number, cut in enumerate(self.cuts, 1):
            self._numbered(number, cut.feature, cut.cutter_mm)
        if self.points:
            self._start()
        return ink.picture(
            "plan",
            _("The part from above: its outline and its cuts") if self.outline else _("The cuts from above"),
            self._told(),
            (WIDE, self._words(datum)),
            self.ink,
        )

    def _shape(self, feature: Any, cutter: Any) -> None:
        """A cut inside the outline, of its sizes."""
        x, y = self.at(float(feature.x_mm), float(feature.y_mm))
        wide, high = self._sizes(feature, cutter)
        if feature.kind == "mark":
            way = f"M{x - wide / 2:.1f} {y:.1f}H{x + wide / 2:.1f}M{x:.1f} {y - 5:.1f}V{y + 5:.1f}"
            self.ink.append(ink.line(way, chalk=True, dash="7 4"))
        else:
            corner = {"hole": high / 2, "slot": min(wide, high) / 2}.get(feature.kind, self._corner(feature))
            self.ink.append(ink.shape(_rounded(x, y, wide, high, corner), wide=1.6))
        if min(wide, high) < _ROOM:
            self.taken.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))

    def _numbered(self, number: int, feature: Any, cutter: Any) -> None:
        """The number of a cut: on the edge, in its middle, or beside it."""
        if feature.kind == "edge" and self.outline is not None:
            self._number(number, self._on_edge())
        elif _placed(feature):
            x, y = self.at(float(feature.x_mm), float(feature.y_mm))
            wide, high = self._sizes(feature, cutter)
            large = min(wide, high) >= _ROOM and feature.kind != "mark"
            spot = (x, y) if large else self._beside((x, y), wide, high)
            # The leader ends on the cut at its nearest, not in its middle.
            lead = max(x - wide / 2, min(spot[0], x + wide / 2)), y
            self._number(number, spot, lead=None if large else lead)

    def _sizes(self, feature: Any, cutter: Any) -> tuple[float, float]:
        """Along and across, on the sheet; never so small that it cannot be seen."""
        across = float(feature.width_mm or feature.length_mm or cutter or 0)
        if feature.kind == "mark":
            return max(float(feature.length_mm or 0) * self.scale, 10.0), 10.0
        along = across if feature.kind == "hole" else float(feature.length_mm or across)
        return max(along * self.scale, 5.0), max(across * self.scale, 5.0)

    def _corner(self, feature: Any) -> float:
        return float(feature.corner_mm or 0) * self.scale

    def _on_edge(self) -> ink.Point:
        """A place on the outline far from the points of its check."""
        length = self.outline.length
        places = [length * (one + 0.5) / 16 for one in range(16)]
        points = [one.along or 0 for one in self.points]

        def free(place: float) -> float:
            return min((min(abs(place - one), length - abs(place - one)) for one in [0.0, *points]), default=0.0)

        spots = [self.at(*self.outline.at(place)) for place in sorted(places, key=free, reverse=True)]
        return next((spot for spot in spots if not self._meets(_around(spot, 9))), spots[0])

    def _beside(self, spot: ink.Point, wide: float, high: float) -> ink.Point:
        """The first free place round a small cut."""
        (x, y), across, up = spot, wide / 2 + 15, high / 2 + 15
        along = [x, *(x + way * wide / 4 for way in (-1, 1)), *(x + way * wide / 2 for way in (-1, 1))]
        spots = [*((at, y + way * up) for way in (-1, 1) for at in along), (x - across, y), (x + across, y)]
        return next((one for one in spots if not self._meets(_around(one, 9))), spots[0])

    def _number(self, number: int, spot: ink.Point, *, lead: ink.Point | None = None) -> None:
        x, y = spot
        if lead is not None:
            self.ink.append(ink.line(f"M{lead[0]:.1f} {lead[1]:.1f}L{x:.1f} {y:.1f}", wide=0.9, soft=True))
        self.ink.append(ink.disc(x, y, 9.5))
        self.ink.append(ink.word(x, y + 4.4, str(number), anchor="middle", bold=True, of=ink.SMALL))
        self.taken.append(_around(spot, 10))

    def _point(self, point: Point) -> None:
        """A stroke across the edge, or a cross where it was found out; its name outside."""
        along = min(point.along or 0.0, self.outline.length)
        x, y = self.at(*self.outline.at(along))
        out_x, out_y = self._outward(along)
        stroke = f"M{x - out_x * 5:.1f} {y - out_y * 5:.1f}L{x + out_x * 9:.1f} {y + out_y * 9:.1f}"
        out = point in self.out
        self.ink.append(cross(x, y) if out else ink.line(stroke, wide=2.4))
        self.taken.append(_around((x + out_x * 4, y + out_y * 4), 5))
        half = ink.long(point.name, ink.SMALL, bold=out) / 2
        ways = [(out_x * (far + (half - 8) * abs(out_x)), out_y * far + 4) for far in (20, 32)]
        beside = [(ways[0][0], down) for down in (18, -14, 30, -26)]
        rooms = [self._name_room(x + right, y + down, half) for right, down in (*ways, *beside, (0, -12), (0, 20))]
        free = [room for room in rooms if not self._meets(room) and room[1] > 2 and room[3] < self.foot]
        # Across the outline only where there is no room beside it.
        if room := next((room for room in free if not self._is_on_edge(room)), next(iter(free), None)):
            self.taken.append(room)
            self.ink.append(ink.word(room[0] + half, room[3] - 3, point.name, anchor="middle", bold=out, of=ink.SMALL))

    def _name_room(self, x: float, y: float, half: float) -> Box:
        middle = max(half + 2, min(x, WIDE - half - 2))
        return middle - half, y - 11, middle + half, y + 3

    def _is_on_edge(self, room: Box) -> bool:
        return any(room[0] < x < room[2] and room[1] < y < room[3] for x, y in self.edge)

    def _outward(self, along: float) -> tuple[float, float]:
        """Away from the part, on the sheet, as long as 1."""
        length, step = self.outline.length, self.outline.length / 2000
        (ax, ay), (bx, by) = (self.outline.at((along + by) % length) for by in (-step, step))
        far = hypot(bx - ax, by - ay) or 1.0
        nx, ny = (by - ay) / far, -(bx - ax) / far
        x, y = self.outline.at(along % length)
        inside = self.outline.contains(x + nx * step * 4, y + ny * step * 4)
        return (-nx, ny) if inside else (nx, -ny)

    def _start(self) -> None:
        """Where it is counted from, and which way round."""
        length = self.outline.length
        (ax, ay), (bx, by) = (self.at(*self.outline.at(along)) for along in (0.0, min(length / 8, 16 / self.scale)))
        far = hypot(bx - ax, by - ay) or 1.0
        ux, uy = (bx - ax) / far, (by - ay) / far
        head = "".join(
            f"L{bx - ux * 7 + s * uy * 4:.1f} {by - uy * 7 - s * ux * 4:.1f}M{bx:.1f} {by:.1f}" for s in (1, -1)
        )
        self.ink.append(ink.line(f"M{bx:.1f} {by:.1f}{head}", wide=2.2, chalk=True))
        self.ink.append(ink.disc(ax, ay, 3.5, solid=True))

    def _meets(self, room: Box) -> bool:
        return any(
            room[0] < one[2] and one[0] < room[2] and room[1] < one[3] and one[1] < room[3] for one in self.taken
        )

    def _words(self, datum: str) -> float:
        """Below the part: what it sits by, the start of the outline, and what has no place on it."""
        lines = _wrapped(_("Datum: %(words)s") % {"words": datum}) if datum else []
        if self.outline is None:
            lines += _wrapped(_("No outline of the part is written down: the cuts as they lie to each other."))
        if self.points:
            lines.append(_("Dot and arrow: where the outline begins, and its way round."))
            lines.append(_("That is not the way of the feed."))
        lost = [
            str(number)
            for number, cut in enumerate(self.cuts, 1)
            if not ((cut.feature.kind == "edge" and self.outline is not None) or _placed(cut.feature))
        ]
        lines += _wrapped(_("Without a place: %(numbers)s") % {"numbers": ", ".join(lost)}) if lost else []
        for number, words in enumerate(lines):
            self.ink.append(ink.word(4, self.foot + 14 + number * 16, words, of=ink.SMALL))
        return self.foot + 16 * len(lines) + 6

    def _told(self) -> str:
        said = [f"{number}: {cut.feature}." for number, cut in enumerate(self.cuts, 1)]
        names = ", ".join(one.name for one in self.points)
        return " ".join([*said, _("Checked at: %(names)s.") % {"names": names} if names else ""]).strip()


def _around_all(cuts: Sequence[Any]) -> Box | None:
    """The box of the cuts that have a place and a size, in mm; None where there is none."""
    boxes = [
        (x - along / 2, y - across / 2, x + along / 2, y + across / 2)
        for cut in cuts
        if _placed(cut.feature) and (across := _mm(cut.feature.width_mm or cut.feature.length_mm or cut.cutter_mm))
        for x, y in [(_mm(cut.feature.x_mm), _mm(cut.feature.y_mm))]
        for along in [_mm(cut.feature.length_mm) or across]
    ]
    lefts, lows, rights, tops = zip(*boxes, strict=True) if boxes else ((), (), (), ())
    return (min(lefts), min(lows), max(rights), max(tops)) if boxes else None


def _mm(number: Any) -> float:
    return float(number or 0)


def _placed(feature: Any) -> bool:
    return feature.x_mm is not None and feature.y_mm is not None


def _between(start: ink.Point, end: ink.Point) -> list[ink.Point]:
    """Places on a line, so near to each other that no word fits between two."""
    (ax, ay), (bx, by) = start, end
    steps = int(dist(start, end) // 6) + 1
    return [(ax + (bx - ax) * step / steps, ay + (by - ay) * step / steps) for step in range(steps)]


def _around(spot: ink.Point, far: float) -> Box:
    x, y = spot
    return x - far, y - far, x + far, y + far


def _rounded(x: float, y: float, wide: float, high: float, corner: float) -> list[ink.Point]:
    """A rectangle with round corners, as points."""
    corner = min(corner, wide / 2, high / 2)
    if corner < 0.5:
        return ink.block(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
    across, up = wide / 2 - corner, high / 2 - corner
    steps = 6 if corner < 20 else 18  # more would not be seen
    return [
        (x + sx * across + corner * cos(turn), y + sy * up + corner * sin(turn))
        for quarter, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1)))
        for turn in ((quarter + step / steps) * pi / 2 for step in range(steps + 1))
    ]


def _wrapped(words: str) -> list[str]:
    lines = [""]
    for one in _pieces(words):
        longer = f"{lines[-1]} {one}".strip()
        lines = [*lines[:-1], longer] if ink.long(longer, ink.SMALL) <= WIDE - 8 else [*lines, one]
    return [line for line in lines if line]


def _pieces(words: str) -> Iterable[str]:
    """Its words, those that fill a line cut in two."""
    for one in words.split():
        yield from (one[start : start + 40] for start in range(0, len(one), 40))
