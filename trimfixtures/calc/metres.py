"""How far a cutter cuts: the way along its cut, in metres, which is what wears it."""

from math import pi

from trimfixtures.calc.refusal import Refusal, above_zero

MM = 1000.0


def metres_of_cut(
    kind: str,
    method: str,
    *,
    outline_length: float | None = None,
    length: float | None = None,
    width: float | None = None,
    corner: float = 0.0,
    cutter_diameter: float | None = None,
) -> float | None:
    """How far a cut goes, along its own line.

    An edge: the length given, else the outline. A cut-out: around a rectangle with round corners, 2 (l + w) - 8 r +
    2 π r. A hole: around it, π d. A slot with round ends: 2 (l - w) + π w, or once along its middle, l - w, where it is
    no wider than its cutter. A mark: its length. What is drilled goes no way.

    Parameters:
        kind [key]: edge, cut_out, hole, slot or mark.
        method [key]: guide_bushing, bearing, scribe, knife, saw or drill.
        outline_length [mm]: all around the part; None where it is not known.
        length [mm]: of the cut; None where it is not known.
        width [mm]: of the cut; of a hole its diameter, else `length` is.
        corner [mm]: radius of the corners of a cut-out.
        cutter_diameter [mm]: where a slot may be as wide as its cutter.

    Returns:
        [m] the way; None where a size for it is missing, or where it is drilled.

    Raises:
        Refusal: `not_above_zero`; `corner_too_large` where it is below 0 or more than half the narrower side.

    Source: geometry; a stadium and a rounded rectangle.
    Example: a routed hole of 100 mm: 0.314 m.
    """
    above_zero(outline=outline_length, length=length, width=width, cutter=cutter_diameter)
    if method == "drill":
        return None
    if kind in ("edge", "mark"):
        way = length if length is not None or kind == "mark" else outline_length
    elif kind == "hole":
        across = width if width is not None else length
        way = None if across is None else pi * across
    elif length is None or width is None:
        way = None
    elif kind == "slot":
        way = _slot(max(length, width), min(length, width), cutter_diameter)
    else:
        way = _rounded(length, width, corner)
    return None if way is None else way / MM


def _slot(long: float, across: float, cutter: float | None) -> float:
    if cutter is not None and across <= cutter:
        return long - across
    return 2 * (long - across) + pi * across


def _rounded(length: float, width: float, corner: float) -> float:
    if not 0 <= corner <= min(length, width) / 2:
        most = min(length, width) / 2
        sentence = f"The radius of the corners is {corner}; it goes from 0 to half the narrower side, {most}."
        raise Refusal("corner_too_large", sentence, corner=corner, most=most)
    return 2 * (length + width) - 8 * corner + 2 * pi * corner
