"""What is drawn on a tag: kinds, a shelf, empty gates, crossed tape, the place of a hole.

Everything is an attribute of its picture, and nothing is clipped: what draws paper knows no more.
"""

import base64
from functools import cache, lru_cache

from tooling.drawing.lines import torn_strip
from tooling.drawing.sections import XMLNS, black_mark

# How wide the marks are for their height.
MARK = 44 / 30
TAPE = 66 / 34
_INK = 'fill="none" stroke="#000" stroke-linejoin="round" stroke-linecap="round"'
_TEAR = ((0, 1.1, -0.4, 1, 0.2), (0, -1.1, 0.4, -1, -0.2))
# Of a gate: how much of its place the four strokes take, and what each is from the next.
_BEFORE, _BETWEEN, _STROKES = 0.16, 0.17, 4


@cache
def kind(of: str) -> str:
    """The hatched section of a kind."""
    return _picture(black_mark(of))


def shelf() -> str:
    """A shelf between its uprights, with something on it: the mark of a place."""
    bold = f'{_INK} stroke-width="2"'
    drawn = (
        f'<path {bold} d="M4 1V29M40 1V29M8 26V20H19V26"/>'
        f'<path {bold} d="M21 12.500C23 4 33 4 35 12.500"/>'
        '<path fill="#000" d="M4 12.500H40V16H4ZM4 26H40V29.500H4Z"/>'
    )
    return f'<svg viewBox="0 0 44 30" {XMLNS}>{drawn}</svg>'


@lru_cache(maxsize=64)
def gates(count: int, wide: float, high: float) -> str:
    """Empty gates of five, dotted: the pencil draws them through, four strokes and one across."""
    dotted = f'{_INK} stroke-width=".26" stroke-dasharray=".01 .66"'.replace("#000", "#555")
    pitch = wide / count
    step = pitch * _BETWEEN
    drawn = ""
    for gate in range(count):
        x = gate * pitch + pitch * _BEFORE
        drawn += "".join(f"M{x + stroke * step:.2f} .8V{high - 0.8:.2f}" for stroke in range(_STROKES))
        drawn += f"M{x - step * 0.6:.2f} {high - 1.4:.2f}L{x + step * 3.6:.2f} 1.6"
    return _picture(f'<svg viewBox="0 0 {wide:.2f} {high:.2f}" {XMLNS}><path {dotted} d="{drawn}"/></svg>')


def crossed_tape(wide: float, high: float) -> str:
    """Two strips of torn tape, one over the other: their edges say it where a printer knows black only."""
    half = min(wide, high * TAPE) * 0.075
    rise, run = half * 1.2, half * 0.4
    strips = (
        ((run, high - rise), (wide - run, rise)),
        ((run, rise), (wide - run, high - rise)),
    )
    tear = tuple([cut * half / 5 for cut in side] for side in _TEAR)
    drawn = "".join(
        '<polygon fill="#e9d79f" stroke="#000" stroke-width=".6" stroke-linejoin="round" '
        f'points="{torn_strip(start, end, half, (tear[0], tear[1]))}"/>'
        for start, end in strips
    )
    return f'<svg viewBox="0 0 {wide:.2f} {high:.2f}" {XMLNS}>{drawn}</svg>'


# How wide the place of a hole is, on a tag that is wide enough.
HOLE = 5.0


def hole() -> str:
    """Where the string goes through."""
    return f'<svg viewBox="0 0 5 5" {XMLNS}><circle {_INK} stroke-width=".25" cx="2.5" cy="2.5" r="2.3"/></svg>'


def _picture(svg: str) -> str:
    """What stands on many tags alike, as a picture of its own: paper reads it once a document."""
    return f'<img alt="" src="data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}">'
