"""The section of cutter, holder and wall: what stands where, worked out by hand, and that its words say it too."""

from math import asin, degrees
from xml.etree import ElementTree

import pytest

from tooling.calc.milling import wall_clearance
from tooling.drawing.clearance import WIDE, Setting, clearance, millimetre
from tooling.drawing.clearance_words import Said
from tooling.drawing.ink import on_paper

NS = "{http://www.w3.org/2000/svg}"
SAID = Said("Finishing <hull>", "told", "holder 40 mm", "ball 10 mm", "between", "53°", ("out", "25 mm"), ("wall", "9"))
STEEP = degrees(asin(0.8))


def drawn(ball, holder, stickout, height, angle):
    sizes = (ball, holder, stickout, height, angle)
    of = Setting(ball, holder, stickout, height, angle, wall_clearance(*sizes))
    return ElementTree.fromstring(clearance(of, SAID)), millimetre(of)


def corners(svg, kind):
    """The points of the first shape in a group."""
    group = next(one for one in svg.iter(f"{NS}g") if one.get("class") == kind)
    pieces = group.find(f"{NS}path").get("d").strip("MZ").split("L")
    return [tuple(map(float, piece.split())) for piece in pieces]


def test_the_wall_stands_where_the_working_says():
    # Triangles of 3, 4 and 5: at the holder, 25 up, the wall is 21.25 from the axis, the holder 20; 1.25 lie between.
    svg, mm = drawn(10, 40, 25, 100, STEEP)
    (_left, floor), (foot, _same), (top_x, top_y), *_more = corners(svg, "c-plug")
    *_tear, (right, low), (left, _low) = corners(svg, "c-holder")
    axis = (left + right) / 2
    assert (right - left) / mm == pytest.approx(40, abs=0.05)
    assert (floor - low) / mm == pytest.approx(25, abs=0.05)
    assert (foot - axis) / mm == pytest.approx(
        (5 - 5 * 0.6) / 0.8, abs=0.05
    )  # it touches the ball, not the floor's axis
    slope = (top_x - foot) / (floor - top_y)
    assert (foot - axis) / mm + 25 * slope == pytest.approx(21.25, abs=0.1)


def test_where_the_holder_is_in_the_wall_it_is_filled():
    svg, mm = drawn(12, 40, 60, 100, 90)
    (left, low), (right, _low), (_right, high), _last = corners(svg, "c-in-it")
    assert ((right - left) / mm, (low - high) / mm) == (pytest.approx(14, abs=0.05), pytest.approx(24, abs=18))
    clear, _mm = drawn(12, 40, 60, 50, 90)
    assert "c-in-it" not in {one.get("class") for one in clear.iter(f"{NS}g")}


@pytest.mark.parametrize(
    "sizes",
    [(20, 50, 90, 160, 70), (20, 63, 120, 500, 88), (6, 32, 40, 80, 30), (20, 50, 90, 60, 5), (12, 6, 9, 3, 90)],
)
def test_all_of_it_stays_in_the_picture_and_its_words_are_there(sizes):
    svg, _mm = drawn(*sizes)
    high = float(svg.get("viewBox").split()[3])
    for kind in ("c-plug", "c-holder"):
        for x, y in corners(svg, kind):
            assert -1 <= x <= WIDE + 1
            assert -1 <= y <= high + 1
    assert {"holder 40 mm", "ball 10 mm", "between", "53°"} <= {one.text for one in svg.iter(f"{NS}text")}
    assert svg.get("aria-label") == "Finishing <hull>"
    assert svg.find(f"{NS}desc").text == "told"


def test_on_paper_it_is_black():
    of = Setting(20, 50, 90, 160, 70, wall_clearance(20, 50, 90, 160, 70))
    assert "#244493" not in on_paper(clearance(of, SAID))
