"""The time bar: when hands are at work on each surface of a set, when it waits, and from when on it can be laid up.

Drawn through = hands at work; dotted = it waits (a coat, a cure, a film that dries); hatched = a part is in it. The
shop's open hours are bands with the hours below them, closed hours the gaps between: those are drawn shorter than they
are, so that a weekend leaves room for the work. Letters have one size: a phone and a desk get a bar of their own width.

Pure: no clock, no files, no ids in the SVG, no clipping. Every shape carries its colour as an attribute, so that a PDF
is right, and a class that the stylesheet themes. It says nothing to a screen reader: the table beside it does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from typing import NamedTuple

from django.utils.translation import gettext as _

from tooling.drawing.time_scale import Scale, days, hours

HANDS, WAIT, PART = "hands", "wait", "part"
PHONE, DESK, PAPER = 288, 760, 640  # widths; up to WIDE the name of a line stands above it, else before it
WIDE = 480
LETTERS, SMALL = 13, 12
INK, SOFT, CHALK, RULE, BAND = "#23221f", "#4b473f", "#244493", "#d2ccbf", "#fbfaf7"
_BAR, _LINE_WIDE, _LINE_HIGH = 12, 30, 42
_NAMES, _MARGIN = 150, 6
_DAY_ROOM, _HOUR_ROOM = 76, 40  # a label and the space before the next


class Piece(NamedTuple):
    """A stretch of a line: HANDS, WAIT or PART."""

    kind: str
    begin: datetime
    end: datetime


class SurfaceLine(NamedTuple):
    """One surface: its name, and what happens on it in order of time; `word` stands where nothing does."""

    name: str
    pieces: tuple[Piece, ...]
    word: str = ""


@dataclass(frozen=True, slots=True)
class TimeBar:
    """All of it, from `scale.begin` to `scale.end`. `at`: the line of the lay-up; both its ends are said in words."""

    lines: Sequence[SurfaceLine]
    scale: Scale
    at: datetime
    first: str
    last: str


def timebar_svg(bar: TimeBar, width: int = DESK) -> str:
    """The bar as one `<svg>` element of that width; its height follows from the lines."""
    return _Drawn(bar, width).svg()


def on_paper(svg: str) -> str:
    """The same in black on white, with the letters of paper."""
    for colour in (INK, SOFT, CHALK):
        svg = svg.replace(colour, "#000")
    return (
        svg.replace(BAND, "#fff").replace(RULE, "#999").replace('font-family="sans-serif"', 'font-family="Shop Paper"')
    )


class _Drawn:
    """One bar being drawn from top to bottom: `y` is how far it has come, `ink` what is drawn."""

    def __init__(self, bar: TimeBar, width: int) -> None:
        self.bar, self.width, self.wide = bar, width, width > WIDE
        self.left = _NAMES if self.wide else _MARGIN
        self.room = width - self.left - _MARGIN
        self.ink: list[str] = []
        self.y: float = 0

    def x(self, at: datetime) -> float:
        """Where a moment stands."""
        return self.left + self.room * self.bar.scale.share(at)

    def svg(self) -> str:
        self._ends()
        top = self.y
        foot = top + 8 + len(self.bar.lines) * (_LINE_WIDE if self.wide else _LINE_HIGH)
        self._open(top, foot)
        self.y = top + 4
        for line in self.bar.lines:
            self._surface_line(line)
        self.y = foot
        self.ink.append(_line("b-at", CHALK, 2.4, f"M{self.x(self.bar.at):.1f} {top - 4:.1f}V{foot + 4:.1f}"))
        self._ticks()
        self._legend()
        return (
            f'<svg class="timebar" aria-hidden="true" focusable="false" viewBox="0 0 {self.width} {self.y:.0f}" '
            f'width="{self.width}" height="{self.y:.0f}" xmlns="http://www.w3.org/2000/svg">{"".join(self.ink)}</svg>'
        )

    def _ends(self) -> None:
        """What the beginning is, and the lay-up: side by side where they fit, else one below the other."""
        first, last = self.bar.first, self.bar.last
        self.y = LETTERS + 1
        self._text(self.left, first, soft=True)
        if _long(first) + _long(last) + 12 > self.room:
            self.y += LETTERS + 4
        at = self.x(self.bar.at)
        if at - _long(last) >= self.left:
            self._text(at, last, anchor="end", bold=True, kind="b-last", colour=CHALK)
        else:
            x = max(self.left, min(at, self.width - _MARGIN - _long(last)))
            self._text(x, last, bold=True, kind="b-last", colour=CHALK)
        self.y += 10

    def _open(self, top: float, foot: float) -> None:
        for span in self.bar.scale.open:
            x, end = self.x(span.begin), self.x(span.end)
            self.ink.append(
                f'<rect class="b-open" fill="{BAND}" stroke="{RULE}" stroke-width="1" x="{x:.1f}" y="{top:.1f}" '
                f'width="{end - x:.1f}" height="{foot - top:.1f}"/>'
            )

    def _surface_line(self, line: SurfaceLine) -> None:
        middle = self.y + _LINE_WIDE / 2
        if self.wide:
            size = min(LETTERS, LETTERS * (_NAMES - 14) / max(1.0, _long(line.name, bold=True)))
            self._text(0, line.name, y=middle + 4.5, bold=True, size=size)
        else:
            self._text(self.left + 4, line.name, y=self.y + 15, bold=True)
            middle = self.y + 29
        if not line.pieces:
            self._text(self.left + (6 if self.wide else 4), line.word, y=middle + 4.5, soft=True, size=SMALL)
        for piece in line.pieces:
            self._piece(piece, middle)
        self.y += _LINE_WIDE if self.wide else _LINE_HIGH

    def _piece(self, piece: Piece, middle: float) -> None:
        scale = self.bar.scale
        begin, end = max(piece.begin, scale.begin), min(piece.end, scale.end)
        if begin < end:
            self.ink.append(_SHAPES[piece.kind](self.x(begin), self.x(end), middle))

    def _ticks(self) -> None:
        """The hours of the shop's clock, as many as have room, and below them the days."""
        self.y += 15
        for at, word in hours(self.bar.scale, self.room, _HOUR_ROOM):
            x = self.x(at)
            self.ink.append(_line("b-tick", SOFT, 1, f"M{x:.1f} {self.y - 15:.1f}v4"))
            half = _long(word, SMALL) / 2
            self._text(min(max(x, half), self.width - half), word, anchor="middle", soft=True, size=SMALL)
        self.y += SMALL + 4
        free: float = 0
        for at, word in days(self.bar.scale, self.room, _DAY_ROOM):
            long = _long(word, SMALL, bold=True)
            x = min(self.x(at), self.width - long)
            if x >= free:
                self._text(x, word, size=SMALL, bold=True)
                free = x + long + 4
        self.y += 8

    def _legend(self) -> None:
        """What the shapes mean: those that are drawn, as many in a row as fit."""
        used = {piece.kind for line in self.bar.lines for piece in line.pieces}
        words = {HANDS: _("hands at work"), WAIT: _("waiting"), PART: _("a part in it")}
        shown = [(kind, word) for kind, word in words.items() if kind in used]
        if self.bar.scale.closed:
            shown.append(("", _("gap: shop closed, drawn short") if self.bar.scale.open else _("shop closed")))
        x: float = 0
        self.y += SMALL + 4
        for kind, word in shown:
            sample = 30 if kind else 0
            if x and x + sample + _long(word, SMALL) > self.width:
                x, self.y = 0, self.y + SMALL + 8
            if kind:
                self.ink.append(_SHAPES[kind](x + 1, x + 25, self.y - 4))
            self._text(x + sample, word, soft=True, size=SMALL)
            x += sample + _long(word, SMALL) + 16
        self.y += 6

    def _text(
        self, x: float, words: str, *, y: float | None = None, anchor: str = "start", bold: bool = False,
        soft: bool = False, size: float = LETTERS, kind: str = "b-word", colour: str = INK,
    ) -> None:  # fmt: skip
        weight = ' font-weight="700"' if bold else ""
        self.ink.append(
            f'<text class="{"b-soft" if soft else kind}" x="{x:.1f}" y="{self.y if y is None else y:.1f}" '
            f'text-anchor="{anchor}" font-size="{size:.3g}"{weight} font-family="sans-serif" '
            f'fill="{SOFT if soft else colour}">{escape(words)}</text>'
        )


def _long(words: str, size: float = LETTERS, *, bold: bool = False) -> float:
    """About how long words are, on the long side: nothing is measured here."""
    widest = words.count("W") + words.count("M")
    return (len(words) + widest / 2) * size * (0.62 if bold or words.isupper() else 0.56)


def _line(kind: str, colour: str, width: float, path: str, more: str = "") -> str:
    return f'<path class="{kind}" fill="none" stroke="{colour}" stroke-width="{width}"{more} d="{path}"/>'


def _hands(x: float, end: float, y: float) -> str:
    """Never so short that it cannot be seen."""
    long = max(3.0, end - x)
    box = f'x="{x:.1f}" y="{y - _BAR / 2:.1f}" width="{long:.1f}" height="{_BAR}"'
    return f'<rect class="b-hands" fill="{INK}" {box} rx="1.5"/>'


def _wait(x: float, end: float, y: float) -> str:
    """Dots between what is drawn through; at least one."""
    begin = min(x + 5, (x + end) / 2)
    path = f"M{begin:.1f} {y:.1f}H{max(begin + 0.1, end - 3):.1f}"
    return _line("b-wait", CHALK, 3.6, path, ' stroke-linecap="round" stroke-dasharray=".1 6.5"')


def _part(x: float, end: float, y: float) -> str:
    """A frame with a weave in it, as the mark of a part in a mold has."""
    top, foot = y - _BAR / 2, y + _BAR / 2
    end = max(end, x + 4)
    lines = [f"M{x:.1f} {top:.1f}H{end:.1f}V{foot:.1f}H{x:.1f}Z"]
    at = x + 4
    while at + _BAR / 2 <= end:
        lines.append(f"M{at:.1f} {foot:.1f}L{at + _BAR / 2:.1f} {top:.1f}")
        at += 5
    return _line("b-part", INK, 1.4, "".join(lines))


_SHAPES = {HANDS: _hands, WAIT: _wait, PART: _part}
