"""What guide bushings and bearings make of a cut, against figures printed elsewhere. Sources stand at each test."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trimfixtures.calc.guide import (
    bearing_offset,
    bearing_opening,
    cut_of_opening,
    fit_error,
    guide_offset,
    mask_opening,
)
from trimfixtures.calc.metres import metres_of_cut
from trimfixtures.calc.refusal import Refusal

INCH = 25.4


def test_the_offset_of_a_one_inch_bushing():
    """Common practice, no source: 1 in bushing, 1/2 in cutter, 1/4 in."""
    assert guide_offset(1, 1 / 2) == 1 / 4


def test_the_opening_for_a_cut_out():
    """Common practice, no source: 8 x 4 in, 3/4 in bushing, 1/4 in cutter: an opening of 8 1/2 x 4 1/2 in."""
    opening = mask_opening(8, 4, 3 / 4, 1 / 4)
    assert (opening.width, opening.length) == (8.5, 4.5)
    assert (opening.smallest_inside_radius, opening.smallest_cut_radius) == (3 / 8, 1 / 8)


def test_the_far_side_of_an_inlay():
    """By hand, geometry: 3/4 in bushing, 1/4 in cutter: the inlay piece lies 1/2 in from the opening's edge."""
    assert guide_offset(3 / 4, 1 / 4, kept="far_side") == 1 / 2


# Bushing, cutter, offset: inches, and the last in mm.
OFFSETS = [(5 / 8, 1 / 8, 1 / 4), (3 / 4, 1 / 4, 1 / 4), (1, 1 / 2, 1 / 4), (15, 5, 5), (20, 5, 7.5), (25, 5, 10)]


@pytest.mark.parametrize(("bushing", "cutter", "offset"), OFFSETS)
def test_pairs_that_tables_print(bushing, cutter, offset):
    """Common practice, no source: tables of pairs in woodworkers' forums; those in mm by hand, geometry."""
    assert guide_offset(bushing, cutter) == offset


# Cutter, bushing for the inlay piece, bushing for the recess: mm, and the last in inches.
INLAYS = [(5, 10, 20), (5, 15, 25), (4, 12, 20), (1 / 4, 1 / 2, 1)]


@pytest.mark.parametrize(("cutter", "for_piece", "for_recess"), INLAYS)
def test_one_opening_cuts_an_inlay_piece_and_its_recess(cutter, for_piece, for_recess):
    """By hand, geometry: both meet where the larger bushing less the smaller is two cutters."""
    recess = cut_of_opening(80, 60, for_recess, cutter)
    piece = cut_of_opening(80, 60, for_piece, cutter, kept="far_side")
    assert (recess.width, recess.length) == pytest.approx((piece.width, piece.length))
    assert guide_offset(for_recess, cutter) == guide_offset(for_piece, cutter, kept="far_side")


def test_the_opening_for_an_inlay_piece():
    """By hand, geometry: a piece of 60 mm and its recess, cutter 5: opening of 80 with a bushing of 25, and of 15."""
    assert mask_opening(60, 60, 25, 5).length == 80
    assert mask_opening(60, 60, 15, 5, kept="far_side").length == 80


def test_a_template_that_is_cut_around_is_smaller():
    """By hand, geometry: 25 mm bushing, 5 mm cutter, offset 10: a part of 400 x 300 has a template of 380 x 280."""
    around = mask_opening(400, 300, 25, 5, inside=False)
    assert (around.width, around.length) == (380, 280)
    assert cut_of_opening(380, 280, 25, 5, inside=False).width == 400


def test_a_bearing_as_large_as_its_cutter_cuts_flush():
    """Common practice, no source: flush; a larger bearing leaves half the difference, a smaller one cuts a rebate.

    By hand: cutter 1 3/8 in, bearing 1/2 in: 7/16 in deep.
    """
    assert bearing_offset(12, 12) == 0
    assert bearing_offset(16, 12) == 2
    assert bearing_offset(1 / 2, 11 / 8) == -7 / 16
    assert bearing_offset(12, 12, kept="far_side") == 12
    assert bearing_opening(80, 60, 12, 12).width == 80
    assert bearing_opening(80, 60, 16, 12).width == 84


# opening, bushing, cutter: measured and wanted; inside; kept; the error of the kept edge, by hand.
FITS = [
    ((100.4, 100), (30, 30), (12, 12), True, "mask_side", -0.2),  # the hole is larger
    ((100.4, 100), (30, 30), (12, 12), True, "far_side", 0.2),  # the inlay piece is larger
    ((100.4, 100), (30, 30), (12, 12), False, "mask_side", 0.2),  # so is a part that is cut around
    ((100.4, 100), (30, 30), (12, 12), False, "far_side", -0.2),
    ((100, 100), (29.8, 30), (12, 12), True, "mask_side", -0.1),  # a worn bushing lets the cutter nearer
    ((100, 100), (29.8, 30), (12, 12), True, "far_side", 0.1),
    ((100, 100), (30, 30), (11.9, 12), True, "mask_side", 0.05),  # a worn cutter leaves more
    ((100, 100), (30, 30), (11.9, 12), False, "far_side", 0.05),
    ((None, 100), (29.8, 30), (11.9, 12), True, "mask_side", -0.05),
    ((None, None), (None, None), (None, 12), True, "mask_side", 0),
]


@pytest.mark.parametrize(("opening", "bushing", "cutter", "inside", "kept", "error"), FITS)
def test_what_is_off_moves_the_edge_by_half(opening, bushing, cutter, inside, kept, error):
    """By hand, from the formula: + is material left outside the line, - is cut too deep."""
    found = fit_error(*opening, *bushing, *cutter, inside=inside, kept=kept)
    assert found.error == pytest.approx(error)
    assert found.error == pytest.approx(found.from_opening + found.from_bushing + found.from_cutter)


@pytest.mark.parametrize(("inside", "kept"), [(i, k) for i in (True, False) for k in ("mask_side", "far_side")])
def test_the_error_is_the_difference_of_the_two_cuts(inside, kept):
    """Outside of the half differences: the cut with the measured sizes beside the one with the wanted ones."""
    wanted = cut_of_opening(200, 200, 30, 12, inside=inside, kept=kept).width
    made = cut_of_opening(200.3, 200, 29.9, 11.8, inside=inside, kept=kept).width
    is_hole = inside == (kept == "mask_side")
    left = (wanted - made) / 2 if is_hole else (made - wanted) / 2
    assert fit_error(200.3, 200, 29.9, 30, 11.8, 12, inside=inside, kept=kept).error == pytest.approx(left)


SIXTY_FOURTHS = st.integers(8, 64 * 3).map(lambda marks: marks / 64)


@settings(max_examples=25)
@given(SIXTY_FOURTHS, SIXTY_FOURTHS, st.sampled_from(["mask_side", "far_side"]), st.booleans())
def test_inch_and_metric_give_the_same_tool(one, other, kept, inside):
    if one == other:
        return
    cutter, bushing = sorted((one, other))
    inches, mm = guide_offset(bushing, cutter, kept), guide_offset(bushing * INCH, cutter * INCH, kept)
    assert mm == pytest.approx(inches * INCH)
    small = mask_opening(12, 8, bushing, cutter, inside, kept)
    large = mask_opening(12 * INCH, 8 * INCH, bushing * INCH, cutter * INCH, inside, kept)
    assert (large.width, large.length) == pytest.approx((small.width * INCH, small.length * INCH))
    assert large.smallest_inside_radius == pytest.approx(small.smallest_inside_radius * INCH)
    back = cut_of_opening(large.width, large.length, bushing * INCH, cutter * INCH, inside, kept)
    assert (back.width, back.length) == pytest.approx((12 * INCH, 8 * INCH))


@pytest.mark.parametrize(
    ("call", "code"),
    [
        (lambda: guide_offset(12, 12), "cutter_not_smaller"),
        (lambda: guide_offset(10, 12, kept="far_side"), "cutter_not_smaller"),
        (lambda: guide_offset(0, -1), "not_above_zero"),
        (lambda: guide_offset(float("nan"), 1), "not_above_zero"),
        (lambda: guide_offset(30, 12, kept="left"), "kept_unknown"),
        (lambda: bearing_offset(0, 12), "not_above_zero"),
        (lambda: mask_opening(10, 40, 30, 12), "smaller_than_cutter"),
        (lambda: mask_opening(18, 40, 30, 12, inside=False), "no_opening"),
        (lambda: cut_of_opening(29, 40, 30, 12), "smaller_than_bushing"),
        (lambda: cut_of_opening(40, 40, 30, 12, kept="far_side"), "no_cut"),
        (lambda: fit_error(0, 1, 1, 1, 1, 1), "not_above_zero"),
        (lambda: metres_of_cut("edge", "saw", length=0), "not_above_zero"),
        (lambda: metres_of_cut("cut_out", "saw", length=40, width=20, corner=11), "corner_too_large"),
    ],
)
def test_what_cannot_be_is_refused_with_value_and_range(call, code):
    with pytest.raises(Refusal, match=r"\d|mask_side") as refused:
        call()
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("kind", "method", "sizes", "metres"),
    [
        # by hand: 2 (300 + 200), corners of 20: less 8 · 20, more a circle of 40 mm
        ("cut_out", "guide_bushing", {"length": 300, "width": 200}, 1.0),
        ("cut_out", "knife", {"length": 300, "width": 200, "corner": 20}, 0.9656637),
        ("hole", "bearing", {"width": 100}, 0.3141593),
        ("hole", "drill", {"width": 8}, None),
        ("slot", "guide_bushing", {"length": 60, "width": 20, "cutter_diameter": 12}, 0.1428319),
        ("slot", "guide_bushing", {"length": 60, "width": 12, "cutter_diameter": 12}, 0.048),
        ("edge", "saw", {"outline_length": 2400}, 2.4),
        ("edge", "saw", {"outline_length": 2400, "length": 900}, 0.9),
        ("edge", "saw", {}, None),
        ("mark", "scribe", {"length": 50, "outline_length": 2400}, 0.05),
        ("mark", "scribe", {"outline_length": 2400}, None),
        ("cut_out", "saw", {"length": 300}, None),
    ],
)
def test_the_way_of_a_cut(kind, method, sizes, metres):
    assert metres_of_cut(kind, method, **sizes) == (metres if metres is None else pytest.approx(metres))
