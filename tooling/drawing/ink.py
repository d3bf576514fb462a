"""What pictures to scale have in common: inks, lines, words, dimensions, and sizes in the reader's unit.

Every shape carries its looks as attributes and nothing is clipped, so that the same picture goes into a PDF; the class
beside them lets a stylesheet turn the inks round in the dark.
"""

from collections.abc import Iterable
from decimal import Decimal
from html import escape

from django.utils.safestring import SafeString, mark_safe

from shared.units import finely, unit_of
from tooling.drawing.lines import Point as Point
from tooling.drawing.lines import hatching, outline

INK, SOFT, CHALK, SHEET = "#23221f", "#4b473f", "#244493", "#fbfaf7"
LETTERS, SMALL = 13.0, 12.0
_NB = "\N{NO-BREAK SPACE}"
_BOLD, _PLAIN, _WIDE = 0.6, 0.53, 1.5


def on_paper(svg: str) -> SafeString:
    """The same in black on white, with the letters of paper."""
    for colour in (INK, SOFT, CHALK):
        svg = svg.replace(colour, "#000")
    return mark_safe(svg.replace(SHEET, "#fff").replace('"sans-serif"', '"Shop Paper"'))  # noqa: S308  (our own drawing)


def size(mm: float | Decimal, units: str) -> str:
    """A length as a machine is set to it, in its reader's unit: 1/2 in, 12.7 mm, 0.256 in."""
    unit = unit_of("mm", units)
    return f"{finely(mm, unit)}{_NB}{unit.symbol}".replace("-", "\N{MINUS SIGN}")


def picture(kind: str, title: str, told: str, box: tuple[float, float], drawn: Iterable[str]) -> SafeString:
    """The whole of it, with what it shows in words for whoever does not see it."""
    wide, high = box
    return mark_safe(  # noqa: S308  (our own drawing: words are escaped where they are drawn)
        f'<svg class="drawn {kind}" viewBox="0 0 {wide:.0f} {high:.0f}" width="{wide:.0f}" height="{high:.0f}" '
        f'role="img" aria-label="{escape(title, quote=True)}" xmlns="http://www.w3.org/2000/svg">'
        f"<desc>{escape(told)}</desc>{''.join(drawn)}</svg>"
    )


def group(kind: str, drawn: str) -> str:
    """What belongs together, under a name."""
    return f'<g class="{kind}">{drawn}</g>' if drawn else ""


def line(way: str, *, wide: float = 1.5, soft: bool = False, chalk: bool = False, dash: str = "") -> str:
    """An open line."""
    ink, kind = (CHALK, "k-chalk") if chalk else (SOFT, "k-soft") if soft else (INK, "k-ink")
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    ends = 'stroke-linecap="round" stroke-linejoin="round"'
    return f'<path class="{kind}" fill="none" stroke="{ink}" stroke-width="{wide}" {ends}{dashed} d="{way}"/>'


def shape(points: list[Point], *, solid: bool = False, dash: str = "", wide: float = 1.8) -> str:
    """A closed outline on the sheet, or filled with ink."""
    fill, kind = (INK, "k-solid") if solid else (SHEET, "k-shape")
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path class="{kind}" fill="{fill}" stroke="{INK}" stroke-width="{wide}" stroke-linejoin="round" '
        f'stroke-linecap="round"{dashed} d="{outline(points)}"/>'
    )


def closed(way: str, *, wide: float = 1.8) -> str:
    """A closed line with curves in it, on the sheet."""
    looks = f'fill="{SHEET}" stroke="{INK}" stroke-width="{wide}" stroke-linejoin="round"'
    return f'<path class="k-shape" {looks} d="{way}"/>'


def disc(x: float, y: float, radius: float, *, solid: bool = False) -> str:
    """A round, of the sheet or of ink."""
    fill, kind = (INK, "k-solid") if solid else (SHEET, "k-shape")
    place = f'cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}"'
    return f'<circle class="{kind}" fill="{fill}" stroke="{INK}" stroke-width="1.8" {place}/>'


def hatched(points: list[Point], step: float, way: int = 1) -> str:
    """A closed outline in section."""
    return shape(points) + line(hatching(points, step, way), wide=0.9, soft=True)


def woven(points: list[Point], step: float) -> str:
    """A closed outline of cloth in resin: the piece that is the part."""
    return shape(points) + line(hatching(points, step, 1) + hatching(points, step, -1), wide=1, chalk=True)


def block(left: float, top: float, right: float, foot: float) -> list[Point]:
    """The corners of a rectangle."""
    return [(left, top), (right, top), (right, foot), (left, foot)]


def long(words: str, of: float = LETTERS, *, bold: bool = False) -> float:
    """About how long words are, on the long side: nothing is measured here."""
    wide = sum(_WIDE if letter in "MWmw" else 1 for letter in words)
    return wide * of * (_BOLD if bold else _PLAIN)


def word(
    x: float,
    y: float,
    words: str,
    *,
    anchor: str = "start",
    bold: bool = False,
    of: float = LETTERS,
    boxed: bool = False,
) -> str:
    """Words; `boxed` keeps the hatching behind them away."""
    room = long(words, of, bold=bold)
    left = x - room * {"start": 0, "middle": 0.5, "end": 1}[anchor]
    behind = (
        f'<rect class="k-behind" fill="{SHEET}" x="{left - 3:.1f}" y="{y - of:.1f}" width="{room + 6:.1f}" '
        f'height="{of * 1.35:.1f}" rx="2"/>'
        if boxed
        else ""
    )
    weight = ' font-weight="700"' if bold else ""
    return (
        f'{behind}<text class="k-word" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{of:g}"{weight} '
        f'font-family="sans-serif" fill="{INK}">{escape(words)}</text>'
    )


def within(x: float, words: str, wide: float, *, of: float = LETTERS, bold: bool = False) -> float:
    """Where the middle of words stands so that they stay in the picture."""
    half = long(words, of, bold=bold) / 2
    return max(half + 1, min(x, wide - half - 1))


def dimension(
    span: tuple[float, float], y: float, words: str, wide: float, *, above: bool = False, goes_on: bool = False
) -> str:
    """A line from one x to another with its words under it (or above); the strokes at its ends lean as on a plan.

    `goes_on`: its right end is not in the picture; an arrow points there.
    """
    left, right = span
    ends = "".join(f"M{x - 3:.1f} {y + 3:.1f}L{x + 3:.1f} {y - 3:.1f}" for x in ((left,) if goes_on else span))
    if goes_on:
        ends += f"M{right - 7:.1f} {y - 4:.1f}L{right:.1f} {y:.1f}L{right - 7:.1f} {y + 4:.1f}"
    along = f"M{left - 5:.1f} {y:.1f}H{right + (0 if goes_on else 5):.1f}"
    x, stands = within((left + right) / 2, words, wide), y - 6 if above else y + 15
    drawn = line(ends, wide=1.6) + line(along, wide=1, soft=True)
    return drawn + word(x, stands, words, anchor="middle", boxed=True)
