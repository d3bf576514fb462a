"""A cut in section, against places worked out by hand (in the comments): geometry, common practice."""

from math import inf

import pytest

from trimfixtures.calc.guide import bearing_offset, guide_offset
from trimfixtures.calc.refusal import Refusal
from trimfixtures.calc.section import Span, section


def spans(*pairs):
    return tuple(Span(*pair) for pair in pairs)


def test_outside_with_a_bushing():
    # Bushing 25.4 from 0 to 25.4, its axis at 25.4/2 = 12.7; cutter 12.7: 12.7 - 6.35 = 6.35 to 12.7 + 6.35 = 19.05.
    found = section("guide_bushing", cutter=12.7, guide=25.4)
    assert (found.trim_mask, found.guide) == (spans((-inf, 0)), Span(0, 25.4))
    assert found.axis == pytest.approx(12.7)
    assert found.tool == pytest.approx((6.35, 19.05))
    assert found.kept[0] == pytest.approx((-inf, 6.35))
    assert found.off[0] == pytest.approx((19.05, inf))
    assert found.edge == pytest.approx(6.35)


def test_inside_an_opening():
    # A cut-out 30 wide, bushing 12, cutter 6: the edge is (12 - 6)/2 = 3 from each side of the opening, 30 + 2*3 = 36.
    # The cutter stands at 3 to 9 on this side and at 36 - 9 = 27 to 36 - 3 = 33 on the other; between them 9 to 27.
    found = section("guide_bushing", cutter=6, guide=12, opening=36)
    assert found.trim_mask == spans((-inf, 0), (36, inf))
    assert found.guide == Span(0, 12)
    assert found.cuts == spans((3, 9), (27, 33))
    assert found.kept == spans((-inf, 3), (33, inf))
    assert found.off == spans((9, 27))
    assert found.kept[1].left - found.kept[0].right == 30


def test_a_slot_in_which_there_and_back_meet():
    # A slot 8 wide: opening 8 + 2*3 = 14. There 3 to 9, back 14 - 9 = 5 to 14 - 3 = 11: one cut from 3 to 11.
    found = section("guide_bushing", cutter=6, guide=12, opening=14)
    assert (found.cuts, found.off) == (spans((3, 11)), ())
    assert found.tool == Span(3, 9)


def test_a_small_bearing_runs_in_an_opening_that_its_cutter_would_not_go_into():
    # Bearing 10, cutter 12: axis 5, cut -1 to 11. A cut-out 40 x 12 takes an opening of 12 - 2*1 = 10: the bearing
    # fills it, and the way back stands at 10 - 11 = -1 to 10 + 1 = 11 as well.
    found = section("bearing", cutter=12, guide=10, opening=10)
    assert (found.guide, found.tool, found.cuts) == (Span(0, 10), Span(-1, 11), spans((-1, 11)))
    assert found.kept == spans((-inf, -1), (11, inf))
    assert found.trim_mask == spans((-inf, 0), (10, inf))


def test_far_side_outside():
    # Bushing 16, cutter 6: axis 8, cut 5 to 11. The piece beyond is kept: it begins at (16 + 6)/2 = 11.
    found = section("guide_bushing", cutter=6, guide=16, kept="far_side")
    assert (found.kept, found.off, found.edge) == (spans((11, inf)), spans((-inf, 5)), 11)


def test_far_side_in_an_opening_is_an_inlay():
    # 3/4 in bushing, 1/4 in cutter: (19.05 + 6.35)/2 = 12.7 = 1/2 in from the edge. A plug of 20: 20 + 2*12.7 = 45.4.
    # The cutter: axis 9.525, 9.525 - 3.175 = 6.35 to 12.7; on the other side 45.4 - 12.7 = 32.7 to 45.4 - 6.35 = 39.05.
    found = section("guide_bushing", cutter=6.35, guide=19.05, kept="far_side", opening=45.4)
    assert found.kept[0] == pytest.approx((12.7, 32.7))
    assert found.off[0] == pytest.approx((-inf, 6.35))
    assert found.off[1] == pytest.approx((39.05, inf))


@pytest.mark.parametrize(
    ("bearing", "tool", "edge"),
    [
        (12, (0, 12), 0),  # as wide as its cutter: flush
        (19, (3.5, 15.5), 3.5),  # axis 9.5, cutter 9.5 - 6 to 9.5 + 6: material is left, (19 - 12)/2
        (9, (-1.5, 10.5), -1.5),  # axis 4.5, 4.5 - 6 = -1.5: it cuts in under the trim mask
    ],
)
def test_a_bearing_cutter(bearing, tool, edge):
    found = section("bearing", cutter=12, guide=bearing)
    assert (found.tool, found.edge) == (Span(*tool), edge)
    assert (found.kept, found.off) == (spans((-inf, edge)), spans((tool[1], inf)))


@pytest.mark.parametrize("kept", ["mask_side", "far_side"])
def test_the_piece_ends_where_the_offset_says(kept):
    assert section("guide_bushing", cutter=6, guide=16, kept=kept).edge == guide_offset(16, 6, kept)
    assert section("bearing", cutter=12, guide=19, kept=kept).edge == bearing_offset(19, 12, kept)


def test_what_runs_along_the_edge_by_itself():
    assert section("knife").kept == spans((-inf, 0))
    # A blade of 1.5 with its flat along the edge takes away 0 to 1.5, on the side that it runs on.
    assert section("saw", cutter=1.5).off == spans((1.5, inf))
    assert section("saw", cutter=1.5, kept="far_side").edge == 1.5
    line = section("scribe")
    assert (line.through, line.kept, line.off) == (False, spans((-inf, 0)), spans((0, inf)))
    mark = section("scribe", kept="both")
    assert (mark.kept, mark.off) == (spans((-inf, inf)), ())


def test_a_drill_in_its_bushing():
    # Drill 6 in a bushing of 10: its wall is (10 - 6)/2 = 2. Pilot 3: 3 - 1.5 = 1.5 to 4.5.
    found = section("drill", cutter=6, guide=10, pilot=3)
    assert found.trim_mask == spans((-inf, -2), (8, inf))
    assert (found.guide, found.cuts, found.pilot) == (Span(-2, 8), spans((0, 6)), Span(1.5, 4.5))
    assert (found.kept, found.off, found.axis) == (spans((-inf, 0), (6, inf)), (), 3)


@pytest.mark.parametrize(
    ("method", "sizes", "code"),
    [
        ("guide_bushing", {"guide": 12}, "no_cutter"),
        ("guide_bushing", {"cutter": 6}, "no_bushing"),
        ("bearing", {"cutter": 6}, "no_bushing"),
        ("guide_bushing", {"cutter": 12, "guide": 12}, "cutter_not_smaller"),
        ("guide_bushing", {"cutter": 6, "guide": 12, "opening": 11}, "smaller_than_bushing"),
        ("bearing", {"cutter": 12, "guide": 10, "opening": 9}, "smaller_than_run"),
        ("drill", {}, "no_cutter"),
        ("drill", {"cutter": 6, "guide": 5}, "drill_wider"),
        ("drill", {"cutter": 6, "pilot": 6}, "pilot_wider"),
        ("laser", {"cutter": 6}, "no_method"),
    ],
)
def test_what_cannot_stand_so(method, sizes, code):
    with pytest.raises(Refusal) as refused:
        section(method, **sizes)
    assert refused.value.code == code
