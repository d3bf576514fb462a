"""The places of defects over a picture of their tool: a number each beside an open ring, a filled one where closed."""

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

# Of the shorter side: a ring that can be seen across a bench, and a number that can be read on a phone.
_RING, _LETTER = 0.055, 0.12
_WHOLE = 1000
# From here on, in thousandths, the number stands left of its ring.
_RIGHT = 850


@dataclass(frozen=True, slots=True)
class Mark:
    """x, y: thousandths of the picture from the left and the top."""

    number: int
    x: int
    y: int
    closed: bool = False


def marks_on(width: int, height: int, marks: Iterable[Mark], says: str) -> str:
    """A drawing that lies over a picture of this size; `says` is what is read out in its place."""
    drawn = "".join(_drawn(mark, width, height) for mark in marks)
    return (
        f'<svg class="defect-marks" viewBox="0 0 {width} {height}" role="img" aria-label="{escape(says)}">{drawn}</svg>'
    )


def _drawn(mark: Mark, width: int, height: int) -> str:
    x, y, short = round(mark.x * width / _WHOLE), round(mark.y * height / _WHOLE), min(width, height)
    r, letter = max(1, round(short * _RING)), max(1, round(short * _LETTER))
    rings = "".join(f'<circle class="ring-{one}" cx="{x}" cy="{y}" r="{r}"/>' for one in ("under", "over"))
    left = mark.x > _RIGHT
    at = x - round(1.4 * r) if left else x + round(1.4 * r)
    # No letter leaves the picture at the top or the bottom.
    line = min(max(y + round(letter * 0.35), letter), height - round(letter * 0.15))
    anchor = "end" if left else "start"
    number = (
        f'<text x="{at}" y="{line}" font-size="{letter}" stroke-width="{letter / 5:.1f}" text-anchor="{anchor}">'
        f"{mark.number}</text>"
    )
    how = "closed" if mark.closed else "open"
    return f'<g class="{how}">{rings}{number}</g>'
