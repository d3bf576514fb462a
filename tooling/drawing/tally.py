"""The tally: a strip of masking tape with one pencil stroke for each pull since the last coat.

One rule for every mark: drawn through = it is done, dotted = it is still to come. It holds for pulls and for coats,
left to right as time goes. Each tape is of one surface: a mold's own, an insert's own.

Pure: no clock, no chance, no files, no ids in the SVG (many on one page are fine). Every shape carries its colour as an
attribute, so that a bare file or a PDF is right, and a class that the stylesheet themes.
"""

from collections.abc import Sequence
from hashlib import sha256
from html import escape
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

Point = tuple[float, float]
Coats = tuple[int, int]

HARD = ("tight", "stuck", "lost")
HEIGHT, TOP, FOOT = 44, 9.0, 35.0  # the strip, and the ends of an upright stroke
PITCH, GATE = 9, 44  # stroke to stroke, gate to gate
END, LEAD = 13, 35  # where strokes begin: on bare tape, behind the coat that is on
SMEAR, RING, SHORTEST = 21, 38, 96  # a smear with its room, a bundle's ring, the shortest strip
ROOM = 15  # places drawn one by one; more are bundled by whole gates
COATS = 8  # coats drawn one by one (half as many behind strokes); more become a number
PENCIL, FAINT, WAX, TAPE, TAPE_EDGE = "#2e2c28", "#65551f", "#27489a", "#e9d79f", "#b7a467"


def tally_svg(strokes: Sequence[str], left: int, code: str, coats: Coats | None = None) -> str:
    """The tape as one `<svg>` element.

    strokes: how each pull since the last coat came off, oldest first; "" where nobody said.
    left: pulls still allowed; 0 = coat now; -2 = two past the coat line. Not pulls_left: it is 0 while a part is in.
    code: the tool's code. With the pull's number it decides the wobble, so a stroke never changes once it is drawn.
    coats: None in service; (on, wanted) while coats go on or none is on. `left` is then not looked at.
    """
    return _Strip(tuple(strokes), left, code, coats).svg()


def on_paper(svg: str) -> str:
    """The same strip in black on white, with the letters of paper: a printer has no tape and no pencil."""
    for colour in (PENCIL, FAINT, WAX, TAPE_EDGE):
        svg = svg.replace(colour, "#000")
    return svg.replace(TAPE, "#fff").replace('font-family="sans-serif"', 'font-family="Shop Paper"')


def tally_words(strokes: Sequence[str], left: int, coats: Coats | None = None) -> str:
    """The whole truth of the tape, also where the picture bundles; it says "coat", as it knows no recipe."""
    pulls = _pulls_in_words(strokes)
    if coats is not None:
        on_them = _coats_in_words(*coats)
        return _("%(pulls)s. Now: %(coats)s.") % {"pulls": pulls, "coats": on_them} if strokes else f"{on_them}."
    if left > 0:
        return _("%(pulls)s. %(left)d left, then a coat.") % {"pulls": pulls, "left": left}
    if left == 0:
        return _("%(pulls)s. Coat first.") % {"pulls": pulls}
    return _("%(pulls)s. %(past)d past the coat line: coat first.") % {"pulls": pulls, "past": -left}


def wobble(code: str, name: str | int, count: int) -> list[float]:
    """`count` numbers in -1..1 that depend on nothing but the code and the name."""
    return [byte / 127.5 - 1 for byte in sha256(f"{code}/{name}".encode()).digest()[:count]]


def _pulls_in_words(strokes: Sequence[str]) -> str:
    count = len(strokes)
    if not count:
        return _("No pull since the last coat")
    text = ngettext("%(count)d pull since the last coat", "%(count)d pulls since the last coat", count)
    text %= {"count": count}
    crossed = [(i, word) for i, word in enumerate(strokes, 1) if word in HARD]
    hard = [_("pull %(number)d %(how)s") % {"number": i, "how": _came_off(word)} for i, word in crossed]
    if len(hard) > 3:
        return _("%(pulls)s, %(hard)d of them hard") % {"pulls": text, "hard": len(hard)}
    return ", ".join([text, *hard])


def _came_off(word: str) -> str:
    return {"tight": _("tight"), "stuck": _("stuck"), "lost": _("lost")}[word]


def _coats_in_words(on: int, wanted: int) -> str:
    if not on:
        return _("No coat on: %(wanted)d wanted") % {"wanted": wanted} if wanted else _("No coat on")
    text = ngettext("%(on)d coat on", "%(on)d coats on", on) % {"on": on}
    return _("%(on)s, %(wanted)d more wanted") % {"on": text, "wanted": wanted} if wanted else text


class _Strip:
    """One tape being drawn from left to right: `x` is where the pencil stands, `ink` what is on it so far."""

    def __init__(self, strokes: tuple[str, ...], left: int, code: str, coats: Coats | None) -> None:
        self.strokes, self.left, self.code, self.coats = strokes, left, code, coats
        self.past = min(len(strokes), max(0, -left)) if coats is None else 0
        self.on_tape = len(strokes) - self.past
        self.ahead = max(0, left) if coats is None else 0
        self.ink: list[str] = []
        self.x: float = END

    def svg(self) -> str:
        if self.coats is None or self.strokes:  # the coat that these pulls, done and to come, stand on
            self.ink.append(_smear(self.code, "on", 7))
            self.x = LEAD
        self._pulls()
        self._next_coats()
        tape = self.x + 6 if self.past else max(SHORTEST, self.x + 6)
        width = self._past_the_line(tape) if self.past else tape
        words = escape(tally_words(self.strokes, self.left, self.coats), quote=True)
        return (
            f'<svg class="tally" role="img" aria-label="{words}" viewBox="0 0 {width:.0f} {HEIGHT}" '
            f'width="{width:.0f}" height="{HEIGHT}" xmlns="http://www.w3.org/2000/svg">'
            f"{_tape(self.code, tape)}{''.join(self.ink)}</svg>"
        )

    def _pulls(self) -> None:
        """Strokes and places; with more of them than there is room, whole gates at either end become one number."""
        most = ROOM if self.coats is None and not self.past else ROOM - 5
        bundle = 0
        if self.on_tape + self.ahead > most:
            over = self.on_tape + min(self.ahead, 5) - (most - 5)
            bundle = min(max(0, over + 4) // 5 * 5, self.on_tape // 5 * 5)
        room = (most - 5 if bundle else most) - (self.on_tape - bundle)
        shown = self.ahead if self.ahead <= room else max(0, room - 5)
        if bundle:
            self._ring("bundle", -3, str(bundle), crosses=sum(word in HARD for word in self.strokes[:bundle]))
            self.x += 3
        last = self.on_tape + shown
        if last > bundle:
            self.x = self._gates(bundle + 1, last, self.x, "t-stroke") + 14
        if self.ahead > shown:
            self._ring("ahead", 0, f"+{self.ahead - shown}", faint=True)

    def _gates(self, first: int, last: int, start: float, kind: str) -> float:
        """Draws pulls first..last in gates of five from `start`; returns the x behind the last one."""
        edge = start
        for number in range(first, last + 1):
            gate, slot = divmod(number - first, 5)
            x = start + gate * GATE
            path, centre = _stroke(self.code, number, slot, x)
            drawn = number <= len(self.strokes)
            self.ink.append(_line(kind if drawn else "t-faint", path))
            if drawn and self.strokes[number - 1] in HARD:
                self.ink.append(_cross(centre, past=kind == "t-off"))
            edge = x + (slot * PITCH if slot < 4 else 32)
        return edge

    def _next_coats(self) -> None:
        """In service the coat line, where the next coat belongs; else coats that are on, then those that are wanted."""
        if self.coats is None:
            self.ink.append(_place(self.code, "wax", self.x - 2))
            self.x += SMEAR
            return
        few = sum(self.coats) <= (COATS // 2 if self.strokes else COATS)
        for name, count, draw in (("coat", self.coats[0], _smear), ("want", self.coats[1], _place)):
            drawn = count if few else min(count, 2)
            if count > drawn:
                self._ring(name, -2, str(count), faint=name == "want")
                drawn = 1
            for i in range(drawn):
                self.ink.append(draw(self.code, f"{name}{i}", self.x - 2))
                self.x += SMEAR

    def _past_the_line(self, tape: float) -> float:
        """Pulls past the coat line stand off the tape, on the bare page; returns the width of the whole."""
        self.x = tape + 9
        bundled = self.past // 5 * 5 if self.past > 5 else 0
        if bundled:
            self._ring("past", -4, str(bundled), past=True)
            self.x += 3
        if self.past > bundled:
            self.x = self._gates(self.on_tape + bundled + 1, len(self.strokes), self.x, "t-off") + 5
        return self.x

    def _ring(self, name: str, shift: float, text: str, **looks: Any) -> None:
        self.ink.append(_ring(self.code, name, self.x + shift, text, **looks))
        self.x += RING


def _stroke(code: str, number: int, slot: int, x: float) -> tuple[str, Point]:
    """Path and cross-centre of pull `number`; slot 0-3 stands, slot 4 lies across the gate at x."""
    a, b, c, d, e = wobble(code, number, 5)
    if slot < 4:
        x1, y1 = x + slot * PITCH + a * 1.3, TOP + b * 2
        x2, y2 = x + slot * PITCH + c * 1.9, FOOT + d * 2
        along = 0.72
    else:
        x1, y1 = x - 5 + a * 1.4, 31 + b * 2.4
        x2, y2 = x + 32 + c * 1.4, 13 + d * 2.4
        along = 0.94
    cross = (x1 * (1 - along) + x2 * along, y1 * (1 - along) + y2 * along)
    bend_x, bend_y = (x1 + x2) / 2 + e * 1.8, (y1 + y2) / 2 + e
    return f"M{x1:.1f} {y1:.1f}Q{bend_x:.1f} {bend_y:.1f} {x2:.1f} {y2:.1f}", cross


def _cross(centre: Point, r: float = 4.1, *, past: bool = False) -> str:
    """The cross on the stroke of a hard pull: same pencil, so it is a shape and not a colour."""
    x, y = centre
    kind = "t-hard t-past" if past else "t-hard"
    return (
        f'<path class="{kind}" fill="none" stroke="{PENCIL}" stroke-width="2.1" stroke-linecap="round" '
        f'd="M{x - r:.1f} {y - r:.1f}L{x + r:.1f} {y + r:.1f}M{x + r:.1f} {y - r:.1f}L{x - r:.1f} {y + r:.1f}"/>'
    )


def _line(kind: str, path: str) -> str:
    pencil = f'stroke="{PENCIL}" stroke-width="2.7"'
    look = f'stroke="{FAINT}" stroke-width="2.3" stroke-dasharray=".1 4.3"' if kind == "t-faint" else pencil
    return f'<path class="{kind}" fill="none" {look} stroke-linecap="round" d="{path}"/>'


def _way(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _smear(code: str, name: str, x: float) -> str:
    """A coat that is on: a rag drawn to and fro, top to bottom, and a thinner second pass."""
    w = wobble(code, name, 28)

    def rag(count: int, step: float, at: int, reach: float) -> str:
        sides = [x + (reach if i % 2 else 1) + w[at + i] * 2.1 for i in range(count)]
        return _way([(side, 7.5 + i * step + w[at + i + 7] * 0.8) for i, side in enumerate(sides)])

    look = f'class="t-wax" fill="none" stroke="{WAX}" stroke-linejoin="round" stroke-linecap="round"'
    return (
        f'<path {look} stroke-width="3.2" d="{rag(8, 4.1, 0, 14)}"/>'
        f'<path {look} stroke-width="1.3" opacity=".55" d="{rag(7, 4.6, 13, 16)}"/>'
    )


def _place(code: str, name: str, x: float) -> str:
    """A coat that is wanted: the same way of the rag, dotted, with fewer turns so that the dots stay apart."""
    w = wobble(code, name, 10)
    path = _way([(x + (14 if i % 2 else 1) + w[i] * 1.2, 7 + i * 7.4 + w[i + 5] * 0.8) for i in range(5)])
    return (
        f'<path class="t-want" fill="none" stroke="{WAX}" stroke-width="3" stroke-linejoin="round" '
        f'stroke-linecap="round" stroke-dasharray=".1 4.6" d="{path}"/>'
    )


def _ring(
    code: str, name: str, x: float, text: str, *, faint: bool = False, past: bool = False, crosses: int = 0
) -> str:
    """A bundle of whole gates: its number with a ring round it, as one writes it by hand."""
    w = wobble(code, name, 6)
    cx, cy, rx, ry = x + 16, 21.5, 15.5 + w[0], 12.5 + w[1]
    ring = (
        f"M{cx - rx:.1f} {cy + w[2]:.1f}C{cx - rx:.1f} {cy - ry * 1.35:.1f} {cx + rx:.1f} {cy - ry * 1.3 + w[3]:.1f} "
        f"{cx + rx:.1f} {cy + w[4]:.1f}S{cx - rx * 0.9:.1f} {cy + ry * 1.4:.1f} {cx - rx + 1.5:.1f} {cy - 2 + w[5]:.1f}"
    )
    off = " t-past" if past else ""
    colour, kind = (FAINT, "t-faint") if faint else (PENCIL, f"t-ring{off}")
    dash = ' stroke-dasharray=".1 4.3"' if faint else ""
    size = 15 if len(text) < 3 else 12.5
    under = [_cross((cx - 5 * (min(crosses, 3) - 1) + 10 * i, 37), 3.4) for i in range(min(crosses, 3))]
    return (
        f'<path class="{kind}" fill="none" stroke="{colour}" stroke-width="1.8" stroke-linecap="round"{dash} '
        f'd="{ring}"/><text class="t-num{off}" x="{cx:.1f}" y="{cy + 5.4:.1f}" text-anchor="middle" '
        f'font-size="{size}" font-weight="700" font-family="sans-serif" fill="{colour}">{text}</text>'
    ) + "".join(under)


def _tape(code: str, width: float) -> str:
    """Torn ends, nearly straight edges, two creases."""
    w = wobble(code, "tape", 24)
    right = [(width - 2.4 + w[i] * 1.9, 2 + i * 5) for i in range(9)]
    left = [(2.4 + w[i + 9] * 1.9, 42 - i * 5) for i in range(9)]
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in right + left)
    folds = ((width * 0.21, 18), (width * 0.68, 20))
    creases = "".join(f"M{x + w[i]:.1f} 3L{x - w[i + 1] * 2:.1f} 41" for x, i in folds)
    return (
        f'<polygon class="t-tape" fill="{TAPE}" stroke="{TAPE_EDGE}" stroke-width=".8" points="{points}"/>'
        f'<path class="t-crease" fill="none" stroke="{TAPE_EDGE}" stroke-width=".7" opacity=".55" d="{creases}"/>'
    )
