"""From what guides a cut to what is cut: how far the cut edge lies from the edge of the trim mask.

A guide bushing runs along the trim mask and turns about the same axis as the cutter in it; a bearing does the same on
the cutter's own shank. So the cut edge of the piece under the trim mask lies half the difference of both diameters from
the guiding edge, that of the piece beyond the cutter half their sum.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, inf

from trimfixtures.calc.refusal import Refusal, above_zero

MASK_SIDE, FAR_SIDE = "mask_side", "far_side"


@dataclass(frozen=True, slots=True)
class Opening:
    """How large the opening is, or the template that is cut around, and what can follow it. In mm."""

    width: float
    length: float
    # Of the guiding edge, that the bushing can still follow; and the least that the cutter leaves in the cut.
    smallest_inside_radius: float
    smallest_cut_radius: float


@dataclass(frozen=True, slots=True)
class CutSize:
    """What an opening that is there cuts, in mm."""

    width: float
    length: float


@dataclass(frozen=True, slots=True)
class FitError:
    """How far off the cut edge comes, in mm: + material is left outside its line, - it is cut too deep."""

    error: float
    from_opening: float
    from_bushing: float
    from_cutter: float


@dataclass(frozen=True, slots=True)
class Stack:
    """What some tolerances add up to, either way, in their own unit."""

    worst_case: float
    rss: float


def guide_offset(bushing_diameter: float, cutter_diameter: float, kept: str = MASK_SIDE) -> float:
    """From the guiding edge of the trim mask to the cut edge of the piece that is kept, with a guide bushing.

    mask_side: (bushing - cutter) / 2, the piece under the trim mask is kept. far_side: (bushing + cutter) / 2, the
    piece beyond the cutter is kept, or an inlay piece.

    Parameters:
        bushing_diameter [mm]: outside, where it runs along the trim mask.
        cutter_diameter [mm]: smaller than the bushing, since it turns inside it.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] the distance, above 0.

    Raises:
        Refusal: `not_above_zero`, `cutter_not_smaller`, `kept_unknown`.

    Source: common practice, no source; it is the geometry of two circles on one axis.
    Example: a bushing of 1 in, a cutter of 1/2 in: 1/4 in.
    """
    above_zero(bushing=bushing_diameter, cutter=cutter_diameter)
    if cutter_diameter >= bushing_diameter:
        sentence = (
            f"The cutter is {cutter_diameter}; it is smaller than its guide bushing, which is {bushing_diameter}."
        )
        raise Refusal("cutter_not_smaller", sentence, cutter=cutter_diameter, bushing=bushing_diameter)
    return _offset(bushing_diameter, cutter_diameter, kept)


def bearing_offset(bearing_diameter: float, cutter_diameter: float, kept: str = MASK_SIDE) -> float:
    """From the guiding edge to the cut edge of the piece that is kept, with a bearing on the cutter.

    The same geometry as with a guide bushing, but the bearing may be as large as the cutter (flush) or smaller: then
    the cut lies under the trim mask and the distance is below 0.

    Parameters:
        bearing_diameter [mm]: where it runs along the trim mask.
        cutter_diameter [mm]: over its edges.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] the distance, signed.

    Raises:
        Refusal: `not_above_zero`, `kept_unknown`.

    Source: common practice, no source; it is the geometry of two circles on one axis.
    Example: a bearing as large as its cutter: 0, flush.
    """
    above_zero(bearing=bearing_diameter, cutter=cutter_diameter)
    return _offset(bearing_diameter, cutter_diameter, kept)


def _offset(guide: float, cutter: float, kept: str) -> float:
    if kept not in (MASK_SIDE, FAR_SIDE):
        raise Refusal("kept_unknown", f"{kept!r} is not {MASK_SIDE} or {FAR_SIDE}.", kept=kept)
    return (guide - cutter if kept == MASK_SIDE else guide + cutter) / 2


def mask_opening(
    width: float,
    length: float,
    bushing_diameter: float,
    cutter_diameter: float,
    inside: bool = True,
    kept: str = MASK_SIDE,
) -> Opening:
    """The opening of the trim mask for a wanted cut, with a guide bushing.

    inside: a hole is cut, guided in the opening: wanted + 2 · offset. Otherwise a part is cut around: - 2 · offset.

    Parameters:
        width [mm]: of the wanted cut.
        length [mm]: of the wanted cut; of a round hole its diameter again.
        bushing_diameter [mm]: outside.
        cutter_diameter [mm]: smaller than the bushing.
        inside [-]: whether the guide runs inside an opening of the trim mask.
        kept [key]: mask_side or far_side; far_side inside is an inlay piece.

    Returns:
        [mm] width and length of the opening, the smallest inside radius that the bushing follows (half of it) and the
        smallest radius that the cutter leaves (half of it).

    Raises:
        Refusal: as `guide_offset`; `smaller_than_cutter` where a cutter cannot enter the wanted hole; `no_opening`
            where nothing would be left of the template.

    Source: common practice, no source; the formula of `guide_offset` on either side.
    Example: a cut-out of 8 x 4 in, a bushing of 3/4 in, a cutter of 1/4 in: 8 1/2 x 4 1/2 in.
    """
    offset = guide_offset(bushing_diameter, cutter_diameter, kept)
    return _opening(width, length, offset, bushing_diameter, cutter_diameter, inside and kept == MASK_SIDE, inside)


def bearing_opening(
    width: float,
    length: float,
    bearing_diameter: float,
    cutter_diameter: float,
    inside: bool = True,
    kept: str = MASK_SIDE,
) -> Opening:
    """The opening of the trim mask for a wanted cut, with a bearing on the cutter; see `mask_opening`.

    Parameters:
        width [mm]: of the wanted cut.
        length [mm]: of the wanted cut; of a round hole its diameter again.
        bearing_diameter [mm]: where it runs along the trim mask.
        cutter_diameter [mm]: over its edges.
        inside [-]: whether the bearing runs inside an opening of the trim mask.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] width and length of the opening, and the smallest radii of bearing and cutter.

    Raises:
        Refusal: as `bearing_offset`; `smaller_than_cutter`, `no_opening`.

    Source: common practice, no source; the formula of `bearing_offset` on either side.
    Example: a bearing as large as its cutter: the opening is as large as the cut.
    """
    offset = bearing_offset(bearing_diameter, cutter_diameter, kept)
    return _opening(width, length, offset, bearing_diameter, cutter_diameter, inside and kept == MASK_SIDE, inside)


def _opening(
    width: float, length: float, offset: float, guide: float, cutter: float, is_hole: bool, inside: bool
) -> Opening:
    above_zero(width=width, length=length)
    if is_hole and min(width, length) < cutter:
        sentence = f"The cut is {min(width, length)}, smaller than its cutter, which is {cutter}."
        raise Refusal("smaller_than_cutter", sentence, size=min(width, length), cutter=cutter)
    more = 2 * offset if inside else -2 * offset
    if min(width, length) + more <= 0:
        sentence = f"Nothing is left of the template: {min(width, length)} less {-more}."
        raise Refusal("no_opening", sentence, size=min(width, length), less=-more)
    return Opening(width + more, length + more, guide / 2, cutter / 2)


def cut_of_opening(
    width: float,
    length: float,
    bushing_diameter: float,
    cutter_diameter: float,
    inside: bool = True,
    kept: str = MASK_SIDE,
) -> CutSize:
    """What is cut with an opening that is there: `mask_opening` the other way round.

    Parameters:
        width [mm]: of the opening, or of the template that is cut around.
        length [mm]: of the same.
        bushing_diameter [mm]: outside.
        cutter_diameter [mm]: smaller than the bushing.
        inside [-]: whether the guide runs inside an opening of the trim mask.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] width and length of the cut.

    Raises:
        Refusal: as `guide_offset`; `smaller_than_bushing` where it cannot enter the opening.

    Source: common practice, no source; the formula of `mask_opening` solved for the cut.
    Example: an opening of 8 1/2 x 4 1/2 in, a bushing of 3/4 in, a cutter of 1/4 in: 8 x 4 in.
    """
    offset = guide_offset(bushing_diameter, cutter_diameter, kept)
    above_zero(width=width, length=length)
    if inside and min(width, length) < bushing_diameter:
        size = min(width, length)
        sentence = f"The opening is {size}, smaller than its guide bushing, which is {bushing_diameter}."
        raise Refusal("smaller_than_bushing", sentence, size=size, bushing=bushing_diameter)
    return _cut_size(width, length, offset, inside)


def bearing_cut_of_opening(
    width: float,
    length: float,
    bearing_diameter: float,
    cutter_diameter: float,
    inside: bool = True,
    kept: str = MASK_SIDE,
) -> CutSize:
    """What is cut with an opening that is there, with a bearing on the cutter; see `cut_of_opening`.

    Parameters:
        width [mm]: of the opening, or of the template that is cut around.
        length [mm]: of the same.
        bearing_diameter [mm]: where it runs along the trim mask.
        cutter_diameter [mm]: over its edges.
        inside [-]: whether the bearing runs inside an opening of the trim mask.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] width and length of the cut.

    Raises:
        Refusal: as `bearing_offset`; `smaller_than_bearing` where it cannot enter the opening.

    Source: common practice, no source; the formula of `bearing_opening` solved for the cut.
    Example: a bearing as large as its cutter: the cut is as large as the opening.
    """
    offset = bearing_offset(bearing_diameter, cutter_diameter, kept)
    above_zero(width=width, length=length)
    if inside and min(width, length) < bearing_diameter:
        size = min(width, length)
        sentence = f"The opening is {size}, smaller than the bearing, which is {bearing_diameter}."
        raise Refusal("smaller_than_bearing", sentence, size=size, bearing=bearing_diameter)
    return _cut_size(width, length, offset, inside)


def _cut_size(width: float, length: float, offset: float, inside: bool) -> CutSize:
    less = 2 * offset if inside else -2 * offset
    if min(width, length) - less <= 0:
        size = min(width, length)
        raise Refusal("no_cut", f"Nothing is left between the cuts: {size} less {less}.", size=size, less=less)
    return CutSize(width - less, length - less)


def fit_error(
    opening_measured: float | None,
    opening_wanted: float | None,
    bushing_measured: float | None,
    bushing_nominal: float | None,
    cutter_measured: float | None,
    cutter_nominal: float | None,
    inside: bool = True,
    kept: str = MASK_SIDE,
) -> FitError:
    """How far off the cut edge comes, since opening, bushing and cutter do not measure what they should.

    What is not measured counts as it should be. Of each the half difference, measured less wanted: a larger bushing
    leaves more; a larger cutter cuts deeper; a larger opening makes a larger hole, but also a larger inlay piece.

    Parameters:
        opening_measured [mm]: width of the opening as it is; None where it is not measured.
        opening_wanted [mm]: width of the opening as it should be.
        bushing_measured [mm]: diameter of guide bushing or bearing as it is.
        bushing_nominal [mm]: as it should be.
        cutter_measured [mm]: diameter of the cutter as it is.
        cutter_nominal [mm]: as it should be.
        inside [-]: whether the guide runs inside an opening of the trim mask.
        kept [key]: mask_side or far_side.

    Returns:
        [mm] the error of the cut edge and its three parts: + material is left outside the line, - cut too deep.

    Raises:
        Refusal: `not_above_zero`, `kept_unknown`.

    Source: common practice, no source; the formula of `mask_opening`, each size by half of what it is off.
    Example: a bushing worn by 0.2 mm cuts the edge 0.1 mm too deep: -0.1.
    """
    sizes = {
        "opening": (opening_measured, opening_wanted),
        "bushing": (bushing_measured, bushing_nominal),
        "cutter": (cutter_measured, cutter_nominal),
    }
    for name, pair in sizes.items():
        for size in pair:
            above_zero(**{name: size})
    if kept not in (MASK_SIDE, FAR_SIDE):
        raise Refusal("kept_unknown", f"{kept!r} is not {MASK_SIDE} or {FAR_SIDE}.", kept=kept)
    opening, bushing, cutter = (
        0.0 if measured is None or wanted is None else (measured - wanted) / 2 for measured, wanted in sizes.values()
    )
    # The kept piece is as wide as the opening: around it and cut inside, or under it and cut around.
    is_piece_larger = inside == (kept == FAR_SIDE)
    from_opening = opening if is_piece_larger else -opening
    from_bushing = bushing if kept == MASK_SIDE else -bushing
    parts = (from_opening + 0.0, from_bushing + 0.0, 0.0 - cutter)
    return FitError(sum(parts), *parts)


def stack(tolerances: Iterable[float]) -> Stack:
    """What tolerances of sizes in a row add up to.

    worst_case: all off the same way, their sum. rss: the root of the sum of their squares, for sizes that are off
    independently of each other.

    Parameters:
        tolerances [mm]: of each, either way; in any one unit.

    Returns:
        [mm] both, in the unit of the tolerances.

    Raises:
        Refusal: `no_tolerances` where there is none, `tolerance_below_zero`.

    Source: common practice, no source.
    Example: .005, .003 and .002: .010 and .00616.
    """
    given = tuple(tolerances)
    if not given:
        raise Refusal("no_tolerances", "There is no tolerance to add up.")
    if (wrong := next((one for one in given if not 0 <= one < inf), None)) is not None:
        raise Refusal("tolerance_below_zero", f"A tolerance is {wrong}; it is 0 or more.", tolerance=wrong)
    return Stack(sum(given), hypot(*given))
