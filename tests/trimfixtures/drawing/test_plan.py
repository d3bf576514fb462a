"""The part from above: where its cuts and the points of its check stand, worked out by hand."""

from decimal import Decimal
from types import SimpleNamespace
from xml.etree import ElementTree

import pytest

from trimfixtures.calc.outline import read_outline
from trimfixtures.calc.points import read_points
from trimfixtures.drawing.plan import plan
from trimfixtures.models import Feature

NS = "{http://www.w3.org/2000/svg}"
# 248 wide between margins of 46: one unit a millimetre, its foot at 46 + 100 = 146.
OUTLINE = read_outline("0 0; 248 0; 248 100; 0 100")


def cut(kind, **of):
    return SimpleNamespace(feature=Feature(kind=kind, method="drill", **of), cutter_mm=Decimal(6))


def drawn(*cuts, points="", **more):
    return ElementTree.fromstring(plan(OUTLINE, cuts, read_points(points), **more))


def words(svg):
    return {one.text: (float(one.get("x")), float(one.get("y"))) for one in svg.iter(f"{NS}text")}


def test_the_outline_stands_upright():
    assert next(drawn().iter(f"{NS}path")).get("d") == "M46.0 146.0L294.0 146.0L294.0 46.0L46.0 46.0Z"


def test_cuts_are_numbered_in_their_order_at_their_places():
    large = cut("cut_out", x_mm=Decimal(100), y_mm=Decimal(50), length_mm=Decimal(80), width_mm=Decimal(40))
    small = cut("hole", x_mm=Decimal(200), y_mm=Decimal(30))
    svg = drawn(large, small, cut("edge"), cut("hole", name="lost"))
    # The middle of the cut-out: 46 + 100, 146 - 50; the number of the hole stands above it: 146 - 30 - (6/2 + 15).
    assert words(svg)["1"] == pytest.approx((146, 96 + 4.4), abs=0.1)
    assert words(svg)["2"] == pytest.approx((246, 98 + 4.4), abs=0.1)
    assert "3" in words(svg)
    assert "Without a place: 4" in words(svg)


def test_without_an_outline_the_cuts_stand_alone():
    # From -50 - 20 to 50 + 4: 124 mm take 248, two a mm. The first has its middle at 46 + 2*20 = 86, 40 wide.
    left = cut("cut_out", x_mm=Decimal(-50), y_mm=Decimal(0), length_mm=Decimal(40), width_mm=Decimal(40))
    right = cut("hole", x_mm=Decimal(50), y_mm=Decimal(0), width_mm=Decimal(8))
    text = plan(None, [left, right, cut("edge")], read_points("bow @ 0"))
    svg = ElementTree.fromstring(text)
    assert words(svg)["1"] == pytest.approx((86, 86 + 4.4), abs=0.1)
    assert {"Without a place: 3", "they lie to each other."} <= set(words(svg))
    assert "bow" not in words(svg)
    assert "The cuts from above" in text
    assert plan(None, [cut("edge")], []) == ""


def test_points_stand_outside_of_the_edge():
    # 124 along: the middle of the front, at 46 + 124 = 170; its name below the foot. 298: up the side, right of 294.
    found = words(drawn(points="front @ 124; side @ 298; keel"))
    assert found["front"][0] == pytest.approx(170, abs=0.5)
    assert found["front"][1] > 146
    assert found["side"][0] > 294
    assert "keel" not in found
    assert "Dot and arrow: where the outline begins, and its way round." in found
    assert "That is not the way of the feed." in found


def test_the_datum_stands_in_the_words_of_the_shop():
    assert "Datum: pin <and> slot" in words(drawn(datum="pin <and> slot"))
    assert plan(None, [], []) == ""


def test_the_number_of_a_long_cut_stands_near_it():
    # A mark of 120 at (124, 50) with a point above its middle: its number stands above it, 15 + 5 away from it.
    mark = cut("mark", x_mm=Decimal(124), y_mm=Decimal(50), length_mm=Decimal(120))
    assert words(drawn(mark))["1"] == pytest.approx((46 + 124, 96 - 20 + 4.4), abs=0.1)


def test_a_long_name_does_not_lie_across_the_edge():
    slanted = read_outline("0 0; 200 0; 248 100; 0 100")
    svg = ElementTree.fromstring(plan(slanted, [], read_points("starboard @ 255")))
    x, y = words(svg)["starboard"]
    # Half of its 9 letters: 9 * 12 * 0.53 / 2 = 28.6; the edge at its height stands further left.
    edge = 46 + 200 + 48 * (146 - y) / 100
    assert x - 28.6 > edge
