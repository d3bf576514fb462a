"""A cut in section: where trim mask, guide, cutter, the piece that is kept and what is cut off stand across the cut.

x in mm from the guiding edge of the trim mask, away from it: the trim mask lies below 0, and what runs along its edge
above. An end that is not known, because the piece goes on, is infinite.
"""

from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from trimfixtures.calc.refusal import Refusal

GUIDED = ("guide_bushing", "bearing")
# What is led along the edge by itself. A line that is scribed cuts nothing off.
ALONG = ("scribe", "knife", "saw")
DRILL = "drill"


class Span(NamedTuple):
    """From one x to a greater one."""

    left: float
    right: float

    @property
    def width(self) -> float:
        """How wide it is."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class Section:
    """Where everything stands, in mm from the guiding edge.

    trim_mask: what there is of it; a second piece is the other side of an opening. guide: bushing or bearing where it
    touches the edge; of a drill bushing its outside. tool: what cuts, as it stands at that edge. cuts: what it takes
    away; a second one is the way back along the other side, and both are one where they meet. kept, off: the piece
    that is the part, and what is cut off. edge: where the piece that is kept ends. through: false where only a line is
    drawn. axis: of guide and cutter.
    """

    method: str
    trim_mask: tuple[Span, ...]
    guide: Span | None
    tool: Span
    cuts: tuple[Span, ...]
    kept: tuple[Span, ...]
    off: tuple[Span, ...]
    edge: float
    axis: float | None = None
    pilot: Span | None = None
    through: bool = True


def section(
    method: str,
    *,
    cutter: float | None = None,
    guide: float | None = None,
    kept: str = "mask_side",
    opening: float | None = None,
    pilot: float | None = None,
) -> Section:
    """Across one cut, at the edge that guides it.

    A bearing as wide as its cutter cuts flush. A knife or a saw runs with its flat along the
    edge, a scribe with its point. A drill stands in a bore of the trim mask, so that 0 is where its bore begins.

    Parameters:
        method [key]: guide_bushing, bearing, scribe, knife, saw or drill.
        cutter [mm]: diameter of the cutter or drill, width of what a saw or a knife takes away.
        guide [mm]: diameter of the bushing or bearing; of a drill bushing its outside.
        kept [key]: mask_side, the piece under the trim mask; far_side, the one beyond the cutter; both, where it is a
            mark on the part.
        opening [mm]: width of the opening it is cut in; None where the edge outside guides.
        pilot [mm]: diameter of the hole that is drilled first.

    Returns:
        [mm] where everything stands.

    Raises:
        Refusal: a size is missing, the cutter is not smaller than its bushing, or the guide does not go into the
            opening.

    Source: geometry.
    Example: bushing 25.4, cutter 12.7, outside: axis 12.7, cut from 6.35 to 19.05, the part ends at 6.35.
    """
    if method == DRILL:
        return _drilled(cutter, guide, pilot)
    if method in ALONG:
        width, axis, run = cutter or 0.0, None, None
        cut = Span(0.0, width)
    else:
        width, round_it = _diameters(method, cutter, guide)
        axis, run = round_it / 2, Span(0.0, round_it)
        cut = Span(axis - width / 2, axis + width / 2)
    _fits(method, run or cut, opening)
    far, both = kept == "far_side", kept == "both"
    return Section(
        method=method,
        trim_mask=_beside(0.0, opening),
        guide=run,
        tool=cut,
        cuts=_cuts(cut, opening),
        kept=(Span(-inf, inf),) if both else _pieces(cut, opening, beyond=far),
        off=() if both else _pieces(cut, opening, beyond=not far),
        edge=cut.right if far else cut.left,
        axis=axis,
        through=method != "scribe" and not both,
    )


def _fits(method: str, run: Span, opening: float | None) -> None:
    """What touches the edge goes into the opening; a cutter turns below it, and may be wider than its bearing."""
    if opening is None or opening >= run.right:
        return
    sentence = f"The opening is {opening}; what runs in it takes {run.right}."
    if method == "guide_bushing":
        raise Refusal("smaller_than_bushing", sentence, size=opening, bushing=run.right)
    raise Refusal("smaller_than_run", sentence, size=opening, run=run.right)


def _diameters(method: str, cutter: float | None, guide: float | None) -> tuple[float, float]:
    if method not in GUIDED:
        raise Refusal("no_method", f"{method!r} is no way of cutting.", method=method)
    if cutter is None or cutter <= 0:
        raise Refusal("no_cutter", "The diameter of what cuts is not known.")
    if guide is None or guide <= 0:
        raise Refusal("no_bushing", "The diameter of the bushing or bearing is not known.")
    if method == "guide_bushing" and cutter >= guide:
        sentence = f"The cutter, {cutter}, is not smaller than its bushing, {guide}."
        raise Refusal("cutter_not_smaller", sentence, cutter=cutter, bushing=guide)
    return cutter, guide


def _beside(edge: float, opening: float | None) -> tuple[Span, ...]:
    """What lies on this side of an edge, and on the other side of an opening."""
    here = Span(-inf, edge)
    return (here,) if opening is None else (here, Span(opening - edge, inf))


def _cuts(cut: Span, opening: float | None) -> tuple[Span, ...]:
    """The cut, and the way back on the other side; one where both meet."""
    if opening is None:
        return (cut,)
    back = Span(opening - cut.right, opening - cut.left)
    return (Span(cut.left, back.right),) if back.left <= cut.right else (cut, back)


def _pieces(cut: Span, opening: float | None, *, beyond: bool) -> tuple[Span, ...]:
    """The piece beyond the cutter, or what lies under the trim mask."""
    if not beyond:
        return _beside(cut.left, opening)
    end = inf if opening is None else opening - cut.right
    return (Span(cut.right, end),) if end > cut.right else ()


def _drilled(cutter: float | None, guide: float | None, pilot: float | None) -> Section:
    if cutter is None or cutter <= 0:
        raise Refusal("no_cutter", "The diameter of what cuts is not known.")
    wall = (guide - cutter) / 2 if guide is not None else 0.0
    if wall < 0:
        sentence = f"The drill, {cutter}, is wider than its bushing, {guide}."
        raise Refusal("drill_wider", sentence, cutter=cutter, bushing=guide)
    if pilot is not None and pilot >= cutter:
        sentence = f"The pilot hole, {pilot}, is not smaller than the drill, {cutter}."
        raise Refusal("pilot_wider", sentence, pilot=pilot, cutter=cutter)
    hole, middle = Span(0.0, cutter), cutter / 2
    return Section(
        method=DRILL,
        trim_mask=(Span(-inf, -wall), Span(cutter + wall, inf)),
        guide=Span(-wall, cutter + wall) if wall else None,
        tool=hole,
        cuts=(hole,),
        kept=(Span(-inf, 0.0), Span(cutter, inf)),
        off=(),
        edge=0.0,
        axis=middle,
        pilot=None if pilot is None else Span(middle - pilot / 2, middle + pilot / 2),
    )
