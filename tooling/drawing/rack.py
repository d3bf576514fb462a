"""Tools as they lie on a shelf: a shape for each kind, as long and as high as the tool, on screen and on paper.

Drawn through: it was seen there. Dotted: nobody has seen it there yet. Dotted and empty: it belongs there and lies
elsewhere.
"""

import re
from collections.abc import Iterable
from decimal import Decimal

# The box of a shape, which is stretched to the tool: its outline, and what is seen in it.
_WIDE, _HIGH = 100, 40
_SHAPES = {
    "plug": ("M8 34C24-10 76-10 92 34H100V40H0V34Z", "M8 34H92"),
    "mold": ("M0 40C14-13 86-13 100 40Z", "M17 40C30 6 70 6 83 40"),
    "insert": ("M0 14H100V40H0Z", "M0 22H100M38 14V5H62V14"),
    "trim_mask": ("M12 0H100L88 40H0Z", "M34 28C34 12 62 6 68 16S56 36 44 32Z"),
}
# In em: the longest of a rack, which a phone has room for; the least that can be told apart; the most in height.
LONGEST, _LEAST, _FLAT, _HIGHEST = 15.0, 1.6, 0.7, 6.0
# Nothing of a rack is drawn larger than as if something so long lay there, in mm.
_LEAST_LONGEST = 1500
# Of a tool whose size nobody wrote down, in em.
_UNSIZED = (2.6, 1.1)
_DOTTED = ' stroke-dasharray=".1 4"'
# Units of a drawing on paper in a mm.
_PX = 4.0
_FINE = 'fill="none" stroke-width="1" stroke-dasharray="none"'


def longest(lengths: Iterable[Decimal | None]) -> float:
    """To what all of a rack is drawn, in mm."""
    return max([float(mm) for mm in lengths if mm is not None] + [_LEAST_LONGEST])


def extent(length: Decimal | None, high: Decimal | None, of: float) -> tuple[float, float]:
    """How wide and high a shape is, in em, on a rack whose longest tool is so many mm."""
    wide, tall = _UNSIZED
    if length is not None:
        wide = max(_LEAST, LONGEST * float(length) / of)
    if high is not None:
        tall = min(_HIGHEST, max(_FLAT, LONGEST * float(high) / of))
    return wide, tall


def shapes() -> str:
    """The shapes of the kinds, once on a page: each whole (`s-`) and empty (`e-`)."""
    box = f'viewBox="0 0 {_WIDE} {_HIGH}" preserveAspectRatio="none"'
    made = []
    for kind, (outside, inside) in _SHAPES.items():
        path = f'<path vector-effect="non-scaling-stroke" d="{outside}"/>'
        fine = f'<path class="fine" vector-effect="non-scaling-stroke" d="{inside}"/>'
        made.append(f'<symbol id="s-{kind}" {box}>{path}{fine}</symbol><symbol id="e-{kind}" {box}>{path}</symbol>')
    return f'<svg class="shapes" width="0" height="0" aria-hidden="true" focusable="false">{"".join(made)}</svg>'


def lying(kind: str, how: str, length: Decimal | None, high: Decimal | None, of: float) -> str:
    """One tool on the screen, by the shapes of the page. how: here, told, unmet or gone."""
    wide, tall = extent(length, high, of)
    which = f"{'e' if how == 'gone' else 's'}-{kind}"
    return f'<svg width="{wide:.3g}em" height="{tall:.3g}em"><use href="#{which}"/></svg>'


def on_paper(kind: str, how: str, length: Decimal | None, high: Decimal | None, of: float, em: float) -> str:
    """The same in black on paper, an em being so many mm: nothing there stretches a shape and leaves its line thin."""
    wide, tall = (size * em for size in extent(length, high, of))
    outside, inside = (_stretched(path, wide / _WIDE * _PX, tall / _HIGH * _PX) for path in _SHAPES[kind])
    fine = "" if how == "gone" else f'<path {_FINE} d="{inside}"/>'
    drawn = f'<path fill="none" d="{outside}"/>{fine}'
    edge = 2
    box = f"{-edge} {-edge} {wide * _PX + 2 * edge:.1f} {tall * _PX + 2 * edge:.1f}"
    size = f'width="{wide + 2 * edge / _PX:.2f}mm" height="{tall + 2 * edge / _PX:.2f}mm"'
    dotted = "" if how == "here" else _DOTTED
    looks = f'stroke="#000" stroke-linecap="round" stroke-linejoin="round" stroke-width="2"{dotted}'
    return f'<svg viewBox="{box}" {size}><g {looks}>{drawn}</g></svg>'


def _stretched(path: str, across: float, down: float) -> str:
    """A path with each place moved: behind an H stand places across, behind a V down, behind all else both in turn."""

    def moved(found: re.Match[str]) -> str:
        ways = {"H": (across,), "V": (down,)}.get(found[1], (across, down))
        places = (float(one) for one in found[2].replace("-", " -").split())
        return found[1] + " ".join(f"{one * ways[n % len(ways)]:.1f}" for n, one in enumerate(places))

    return re.sub(r"([A-Z])([-\d ]*)", moved, path)
