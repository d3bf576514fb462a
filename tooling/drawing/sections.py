"""Sections of the four kinds, hatched, so that a kind is known from afar: the small mark of rows, and a picture.

A plug is solid, a mold a shell, a mold insert a loose piece, a trim mask a template with a cut line. Weave in the
opening means that a part is in the mold; crossed strips of tape mean held.
"""

from collections.abc import Callable
from html import escape

from django.utils.translation import gettext as _

from tooling.drawing.lines import Point, curve, hatching, outline, torn_strip

XMLNS = 'xmlns="http://www.w3.org/2000/svg"'
TEAR = ((0, 3, -1, 2.5, 0), (0, -2.5, 1, -3, 0))
CUP_INSIDE = curve((72, 52), (84, 150), (236, 150), (248, 52), 20)
GROUND = '<path class="d-thin" d="M30 160H292"/>'


def kind_words(kind: str) -> str:
    """What the section of a kind shows."""
    return {
        "plug": _("solid: a plug"),
        "mold": _("a shell over a void: a mold"),
        "insert": _("a loose piece: a mold insert"),
        "trim_mask": _("a template and a cut line: a trim mask"),
    }[kind]


def kind_mark(kind: str) -> str:
    """The small section, in the ink of the words beside it."""
    bold = 'fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" stroke-linecap="round"'
    fine = 'fill="none" stroke="currentColor" stroke-width="1.1" stroke-linecap="round"'
    points, step, way, beside, dashed = _SMALL[kind]
    drawn = f'<path {fine} d="{hatching(points, step, way)}"/><path {bold} d="{outline(points)}"/>'
    drawn += f'<path {bold} d="{beside}"/>' if beside else ""
    drawn += f'<path {bold} stroke-dasharray="4 3 .1 3" d="{dashed}"/>' if dashed else ""
    label = escape(_("Section, %(words)s") % {"words": kind_words(kind)}, quote=True)
    return f'<svg class="kind-mark" viewBox="0 0 44 30" role="img" aria-label="{label}" {XMLNS}>{drawn}</svg>'


def black_mark(kind: str) -> str:
    """The same for paper, where nothing lends it an ink."""
    return kind_mark(kind).replace("currentColor", "#000")


def kind_picture(kind: str, *, part_in: bool = False, held: bool = False) -> str:
    """The section at the size of a picture; it stands where no photograph has been taken."""
    drawn = _LARGE[kind]() + (_weave() if part_in else "") + (_taped_over() if held else "")
    words = kind_words(kind)
    if part_in:
        words = _("%(words)s, with a part in it") % {"words": words}
    if held:
        words = _("%(words)s, taped off: held") % {"words": words}
    label = escape(_("Section, %(words)s") % {"words": words}, quote=True)
    return f'<svg class="draw" viewBox="0 0 320 170" role="img" aria-label="{label}" {XMLNS}>{drawn}</svg>'


def taped_over() -> str:
    """The crossed strips alone, to lie over a photograph of a tool that is held."""
    label = escape(_("Taped off: held"), quote=True)
    return f'<svg class="cross" viewBox="0 0 320 170" role="img" aria-label="{label}" {XMLNS}>{_taped_over()}</svg>'


def _cut(points: list[Point], step: float, way: int = 1) -> str:
    return f'<path class="d-fill" d="{outline(points)}"/><path class="d-thin" d="{hatching(points, step, way)}"/>'


def _path(kind: str, way: str) -> str:
    return f'<path class="{kind}" d="{way}"/>'


def _plug() -> str:
    """Solid, on its building board."""
    dome = [(52.0, 128.0), *curve((52, 128), (72, 10), (248, 10), (268, 128), 20)[1:]]
    return (
        GROUND
        + _path("d-mid", "M70 139L64 156M98 139L104 156M56 157H112M222 139L216 156M250 139L256 156M208 157H264")
        + _cut(dome, 17)
        + _path("d-fill", "M26 128H294V139H26Z")
        + _path("d-dash", "M160 30V128")
    )


def _mold() -> str:
    """A shell with its flange, open side up on its stand."""
    outside = curve((62, 63), (74, 172), (246, 172), (258, 63), 20)
    shell = [(22.0, 63.0), *outside, (298.0, 63.0), (298.0, 52.0), *reversed(CUP_INSIDE), (22.0, 52.0)]
    legs = _path("d-mid", "M100 130L88 158M220 130L232 158M74 159H102M218 159H246M96 146H224")
    bolts = "".join(f'<path class="d-mid" d="M{x} 44V71M{x - 5} 47H{x + 5}"/>' for x in (40, 280))
    return GROUND + legs + _cut(shell, 10, -1) + bolts


def _insert() -> str:
    """A loose piece above the place that it fits."""
    right: list[Point] = [(202, 18), (202, 52), (184, 52), (176, 96)]
    piece = [*right, *((320 - x, y) for x, y in reversed(right))]
    lift = "".join(f'<circle class="d-mid" cx="{x}" cy="11" r="6"/>' for x in (138, 182))
    seat = _path("d-line", "M34 92H112L132 150H188L208 92H286") + _path("d-dash", "M118 58L136 96M202 58L184 96")
    return lift + _cut(piece, 12) + seat


def _trim_mask() -> str:
    """A template on the part, the tool's bushing against its edge, and the line that is cut."""
    plate = [(30.0, 62.0), (178.0, 62.0), (178.0, 96.0), (30.0, 96.0)]
    bushing = _path("d-mid", "M182 44H226V58H182ZM186 58V92H222V58M204 44V24M196 92V128H212V92")
    return _cut(plate, 12) + _path("d-laid", "M22 104H196M212 104H298") + bushing + _path("d-cut", "M196 112V152")


def _weave() -> str:
    """A part in the mold: its cloth in the opening, and the laid-up line along the surface."""
    lines = hatching(CUP_INSIDE, 13, 1) + hatching(CUP_INSIDE, 13, -1)
    laid = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in CUP_INSIDE)
    return _path("d-part", outline(CUP_INSIDE)) + _path("d-weave", lines) + _path("d-laid", laid)


def _taped_over() -> str:
    strips = (((92, 26), (226, 140)), ((228, 24), (94, 142)))
    return "".join(f'<polygon class="d-tape" points="{torn_strip(start, end, 8, TEAR)}"/>' for start, end in strips)


_Small = tuple[list[Point], float, int, str, str]  # outline, hatching step and way, lines beside it, dashed line
_SHELL = [
    *curve((6, 23), (9, -3), (35, -3), (38, 23)),
    (43, 23),
    (43, 28),
    *curve((32, 28), (31, 5), (13, 5), (12, 28)),
]
_PIECE: list[Point] = [(14, 2), (30, 2), (30, 8), (27, 8), (25, 17), (19, 17), (17, 8), (14, 8)]
_SMALL: dict[str, _Small] = {
    "plug": ([(5, 26), *curve((5, 26), (8, 2), (36, 2), (39, 26))[1:]], 6, 1, "M1 29H43", ""),
    "mold": ([(1, 23), *_SHELL, (1, 28)], 4.6, -1, "", ""),
    "insert": (_PIECE, 4.6, 1, "M1 17H14L17 28H27L30 17H43", ""),
    "trim_mask": ([(1, 5), (25, 5), (25, 14), (1, 14)], 4.6, 1, "M1 18.5H28M34 18.5H43", "M31 2V29"),
}
_LARGE: dict[str, Callable[[], str]] = {"plug": _plug, "mold": _mold, "insert": _insert, "trim_mask": _trim_mask}
