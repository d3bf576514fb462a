"""How far a cut inside the part reaches past the outline of the part."""

from collections.abc import Iterator
from math import cos, pi, sin

from trimfixtures.calc.corners import Spot
from trimfixtures.calc.outline import Outline

# So many places on each rounded corner, and on each straight side, are held against the outline.
_EACH = 12


def past_outline(outline: Outline, x: float, y: float, length: float, width: float, corner: float = 0.0) -> float:
    """How far a cut around a middle reaches past the outline, at the most; 0 where all of it is inside.

    The cut lies along x. Places around it are held against the outline, a few millimetres apart: what a narrow notch of
    the outline hides between two of them is not found.

    Parameters:
        outline [mm]: of the part.
        x [mm]: of the middle of the cut.
        y [mm]: of the same.
        length [mm]: along x.
        width [mm]: along y.
        corner [mm]: radius of its corners, no more than half of the shorter side counts.

    Returns:
        [mm] from the place that is furthest out to the outline.

    Source: common practice, no source; geometry.
    Example: 100 x 60 around 290, 100 in a part of 300 x 200 from 0, 0: 40.
    """
    around = _around(x, y, length / 2, width / 2, min(corner, length / 2, width / 2))
    return max((outline.off(*spot) for spot in around if not outline.contains(*spot)), default=0.0)


def _around(x: float, y: float, half_long: float, half_wide: float, corner: float) -> Iterator[Spot]:
    straight, upright = half_long - corner, half_wide - corner
    for number in range(_EACH + 1):
        share = 2 * number / _EACH - 1
        for side in (1, -1):
            yield x + share * straight, y + side * half_wide
            yield x + side * half_long, y + share * upright
        turn = pi / 2 * number / _EACH
        for right in (1, -1):
            for up in (1, -1):
                yield x + right * (straight + corner * cos(turn)), y + up * (upright + corner * sin(turn))
