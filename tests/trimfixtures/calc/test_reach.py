"""How far a cut reaches past the outline. The expected lengths are worked out by hand."""

from math import hypot

import pytest

from trimfixtures.calc.outline import read_outline
from trimfixtures.calc.reach import past_outline

PANEL = read_outline("0 0; 300 0; 300 200; 0 200")


@pytest.mark.parametrize(
    ("x", "y", "length", "width", "corner", "expected"),
    [
        (150, 100, 100, 60, 0, 0),
        (150, 100, 300, 200, 0, 0),  # on the line all round
        (290, 100, 100, 60, 0, 40),
        (290, 190, 100, 60, 0, hypot(40, 20)),  # its corner, from the corner of the panel
        (290, 100, 60, 60, 30, 20),  # a round of 30
        (290, 100, 60, 60, 99, 20),  # a corner is no rounder than its sides are long
    ],
)
def test_how_far_it_reaches_past_a_panel(x, y, length, width, corner, expected):
    assert past_outline(PANEL, x, y, length, width, corner) == pytest.approx(expected)


def test_rounded_corners_fit_into_a_round_where_square_ones_do_not():
    # An eight-sided panel 200 across: its slanted sides cut 58.58 off each corner of the square.
    far = 100 * (2**0.5 - 1)
    spots = ((100, far), (far, 100), (-far, 100), (-100, far), (-100, -far), (-far, -100), (far, -100), (100, -far))
    eight = read_outline("; ".join(f"{x:.4f} {y:.4f}" for x, y in spots))
    assert past_outline(eight, 0, 0, 180, 180, 90) == 0
    # From the corner 90, 90 to the slanted side x + y = 100 sqrt 2.
    assert past_outline(eight, 0, 0, 180, 180) == pytest.approx((180 - 100 * 2**0.5) / 2**0.5, abs=1e-3)
