"""Cutter, holder and the steepest wall of a plug in section, to scale: does the holder clear the wall.

Hatched = the plug; filled = where the holder would be in it. What goes on beyond the picture is torn off.
"""

from dataclasses import dataclass
from math import cos, radians, sin

from django.utils.safestring import SafeString

from tooling.calc.milling import WallClearance, to_wall
from tooling.drawing import ink
from tooling.drawing.clearance_words import Said

WIDE = 340.0
# Room at both sides for heights and their words, and the most that the pieces take between them, across and up
_SIDE, _ACROSS, _UP = 86.0, 168.0, 250.0
_MOST = 9.0
_TOP, _ROW, _GROUND = 30.0, 34.0, 22.0
# Of the holder as much is shown as a part of how far the cutter is out.
_HOLDER = 0.4
# So many times half the holder off its axis a wall is far.
_FAR = 5.0
_TEAR = (0.0, -4.0, 2.0, -3.0, 0.0)


@dataclass(frozen=True, slots=True)
class Setting:
    """What stands beside the wall, in mm, and what came of it."""

    ball: float
    holder: float
    stickout: float
    height: float
    angle_deg: float
    found: WallClearance


def clearance(of: Setting, said: Said) -> SafeString:
    """The picture of one pass at its steepest wall. said: its words, in the reader's units."""
    return _Drawn(of, said).svg()


def millimetre(of: Setting) -> float:
    """How much of the picture a millimetre takes."""
    return _Drawn.scale_of(of)


class _Drawn:
    """One section being drawn; x and y say where a place stands, in mm from the axis and above the ball's foot."""

    def __init__(self, of: Setting, said: Said) -> None:
        self.of, self.said = of, said
        self.scale = self.scale_of(of)
        self.top = _shown(of)
        self.floor = _TOP + self.top * self.scale
        self.axis = _SIDE + max(of.holder, of.ball) / 2 * self.scale
        self.ends = self._wall_ends()
        self.ink: list[str] = []

    @staticmethod
    def scale_of(of: Setting) -> float:
        """What fits both ways."""
        half = max(of.holder, of.ball) / 2
        return min(_MOST, _ACROSS / (half + _reach(of)), _UP / _shown(of))

    def x(self, mm: float) -> float:
        return self.axis + mm * self.scale

    def y(self, mm: float) -> float:
        return self.floor - mm * self.scale

    def _wall_ends(self) -> tuple[float, float, bool]:
        """Where the wall ends in the picture, as across and up, and whether it is its own upper edge."""
        up = min(self.of.height, self.top)
        across = to_wall(self.of.ball, self.of.angle_deg, up)
        most = _reach(self.of)
        if across <= most:
            return across, up, up == self.of.height
        lean = radians(90 - self.of.angle_deg)
        radius = self.of.ball / 2
        return most, radius + (most * cos(lean) - radius) / sin(lean), False

    def svg(self) -> SafeString:
        """The whole picture."""
        self._plug()
        self._tool()
        self._overlap()
        self._angle()
        self._heights()
        foot = self._widths()
        return ink.picture("clearance", self.said.title, self.said.told, (WIDE, foot), self.ink)

    def _plug(self) -> None:
        """The floor, the wall, and what lies behind it, torn off where it goes on."""
        across, up, is_edge = self.ends
        foot = max(0.0, to_wall(self.of.ball, self.of.angle_deg, 0))
        left, right = self.x(-max(self.of.holder, self.of.ball) / 2) - 12, WIDE - _SIDE + 12
        ground = self.floor + _GROUND
        points = [(left, self.floor), (self.x(foot), self.floor), (self.x(across), self.y(up))]
        if is_edge:
            points.append((right, self.y(up)))
        else:
            begin, wide = self.x(across), (right - self.x(across)) / 4
            points += [(begin + wide * part, self.y(up) + by) for part, by in enumerate(_TEAR) if part]
        points += [(right, ground), (left, ground)]
        self.ink.append(ink.group("c-plug", ink.hatched(points, 11)))

    def _tool(self) -> None:
        """The holder, the cutter that comes out of it, its ball and the axis."""
        radius, half = self.of.ball / 2, self.of.holder / 2
        tear = [(self.x(-half) + half * self.scale * part / 2, self.y(self.top) + by) for part, by in enumerate(_TEAR)]
        holder = [*tear, (self.x(half), self.y(self.of.stickout)), (self.x(-half), self.y(self.of.stickout))]
        self.ink.append(ink.group("c-holder", ink.shape(holder)))
        middle, round_ = self.y(radius), radius * self.scale
        left, right, neck = self.x(-radius), self.x(radius), self.y(self.of.stickout)
        way = f"M{left:.1f} {neck:.1f}V{middle:.1f}A{round_:.1f} {round_:.1f} 0 0 0 {right:.1f} {middle:.1f}V{neck:.1f}"
        cutter = ink.closed(f"{way}Z") + ink.line(f"M{left:.1f} {middle:.1f}H{right:.1f}", wide=0.9, soft=True)
        self.ink.append(ink.group("c-cutter", cutter))
        axis = f"M{self.axis:.1f} {self.y(self.top) - 8:.1f}V{self.floor + 8:.1f}"
        self.ink.append(ink.line(axis, wide=1, chalk=True, dash="9 4 1.5 4"))

    def _overlap(self) -> None:
        """Where holder and wall would be at one place."""
        half, out = self.of.holder / 2, self.of.stickout
        if self.of.found.clears or self.of.found.at_holder is None:
            return
        up, across = self.ends[1], min(half, self.ends[0])
        lean = radians(90 - self.of.angle_deg)
        meets = up
        if sin(lean) > 1e-9 and self.ends[0] > half:
            meets = self.of.ball / 2 + (half * cos(lean) - self.of.ball / 2) / sin(lean)
        low = [(self.x(self.of.found.at_holder), self.y(out)), (self.x(half), self.y(out))]
        high = [(self.x(half), self.y(meets)), (self.x(across), self.y(meets))]
        self.ink.append(ink.group("c-in-it", ink.shape([*low, *high], solid=True, wide=1)))

    def _angle(self) -> None:
        """How steep the wall is, at its foot."""
        foot = max(0.0, to_wall(self.of.ball, self.of.angle_deg, 0))
        turn, far = radians(self.of.angle_deg), 26.0
        x, y = self.x(foot), self.floor
        to_x, to_y = x + far * cos(turn), y - far * sin(turn)
        arc = f"M{x:.1f} {y:.1f}h{far + 8:.1f}M{x + far:.1f} {y:.1f}A{far} {far} 0 0 0 {to_x:.1f} {to_y:.1f}"
        self.ink.append(ink.line(arc, wide=1.2))
        half = turn / 2
        place = x + (far + 17) * cos(half), y - (far + 12) * sin(half) + 4
        self.ink.append(ink.word(*place, self.said.angle, anchor="middle", boxed=True))

    def _heights(self) -> None:
        """How far the cutter is out, at the left, and how high the wall is, at the right."""
        left, right = _SIDE - 16, WIDE - _SIDE + 20
        self._upright(left, (self.of.stickout, 0), self.x(-self.of.holder / 2), self.said.stickout, anchor="end")
        _across, up, is_edge = self.ends
        self._upright(right, (up, 0), right - 8, self.said.wall, goes_on=not is_edge)

    def _upright(
        self, x: float, of: tuple[float, float], begins: float, words: tuple[str, str], *, anchor: str = "start",
        goes_on: bool = False,
    ) -> None:  # fmt: skip
        top, foot = (self.y(one) for one in of)
        at = (foot,) if goes_on else (top, foot)
        thin = "".join(f"M{min(x, begins) - 4:.1f} {y:.1f}H{max(x, begins) + 4:.1f}" for y in at)
        ends = "".join(f"M{x - 3:.1f} {y + 3:.1f}L{x + 3:.1f} {y - 3:.1f}" for y in at)
        if goes_on:
            ends += f"M{x - 4:.1f} {top + 7:.1f}L{x:.1f} {top:.1f}L{x + 4:.1f} {top + 7:.1f}"
        self.ink.append(
            ink.line(f"{thin}M{x:.1f} {top:.1f}V{foot:.1f}", wide=0.9, soft=True) + ink.line(ends, wide=1.6)
        )
        aside, middle = (-8 if anchor == "end" else 8), (top + foot) / 2
        for place, line in enumerate(words):
            self.ink.append(ink.word(x + aside, middle + place * 15 - 3, line, anchor=anchor))

    def _widths(self) -> float:
        """The holder above; below the ball, and what lies between holder and wall. Returns where the picture ends."""
        half, radius, found = self.of.holder / 2, self.of.ball / 2, self.of.found
        above = (self.x(-half), self.x(half))
        self.ink.append(ink.dimension(above, _TOP - 11, self.said.holder, WIDE, above=True))
        y = self.floor + _GROUND + 14
        rows = [((self.x(-radius), self.x(radius)), self.said.ball, self.y(radius))]
        is_seen = found.at_holder is not None and found.at_holder <= _reach(self.of)
        if is_seen and found.at_holder is not None:
            left, right = sorted((self.x(half), self.x(found.at_holder)))
            rows.append(((left, right), self.said.between, self.y(self.of.stickout)))
        for place, ((begin, end), _words, starts) in enumerate(rows):
            thin = "".join(f"M{x:.1f} {starts:.1f}V{y + place * _ROW + 4:.1f}" for x in (begin, end))
            self.ink.append(ink.line(thin, wide=0.8, soft=True, dash="2 3"))
        for place, (span, words, _starts) in enumerate(rows):
            self.ink.append(ink.dimension(span, y + place * _ROW, words, WIDE))
        y += len(rows) * _ROW - 8
        if not is_seen:
            self.ink.append(ink.word(WIDE / 2, y + 6, self.said.between, anchor="middle"))
            y += 16
        return y


def _shown(of: Setting) -> float:
    """How high the picture is, in mm: the cutter, as much of the holder, and all of a wall that ends near it."""
    top = of.stickout * (1 + _HOLDER)
    return max(top, of.height * 1.04) if of.height <= top * 1.3 else top


def _reach(of: Setting) -> float:
    """How far to the right of the axis the picture goes, in mm: the wall where the holder meets it, and a little."""
    half, radius = of.holder / 2, of.ball / 2
    up = min(of.height, _shown(of))
    # A wall that is far off has nothing to show: it would only make all else small.
    beside = min(to_wall(of.ball, of.angle_deg, min(of.stickout, of.height)), _FAR * max(half, radius))
    most = max(2.2 * half, 4 * radius, 1.25 * beside)
    return max(half * 1.15, radius * 1.5, min(to_wall(of.ball, of.angle_deg, up), most)) + 0.2 * max(half, radius)
