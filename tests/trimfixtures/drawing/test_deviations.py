"""How far a cut edge is off: places worked out by hand, and shapes and words that say it without colour."""

import re
from xml.etree import ElementTree

import pytest

from shared.units import METRIC, US
from tooling.drawing.ink import on_paper
from trimfixtures.calc.edges import is_out
from trimfixtures.calc.points import read_points
from trimfixtures.drawing.deviations import DESK, PHONE, deviations

NS = "{http://www.w3.org/2000/svg}"
FOUND = "bow @ 0: +0.1; port @ 500: +0.7; stern @ 1000: -0.4; keel @ 1500: in"


def drawn(text=FOUND, limit=0.5, length=2000, units=METRIC, **more):
    return deviations(read_points(text), limit, length, units, **more)


def words(svg):
    return [one.text.replace("\N{NO-BREAK SPACE}", " ") for one in ElementTree.fromstring(svg).iter(f"{NS}text")]


def marks(svg, kind):
    return [one for one in ElementTree.fromstring(svg).iter(f"{NS}g") if one.get("class") == kind]


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_each_point_stands_where_it_was_measured(width):
    # From 64 to width - 20 the outline of 2000 is laid out: the stern, at 1000, stands in the middle of that. The
    # picture reaches 1.5 * 0.5 = 0.75 mm in 74; the line stands at 34 + 12 + 74 = 120, so -0.4 at 120 + 39.5 = 159.5.
    bow, stern = (mark.find(f"{NS}circle") for mark in marks(drawn(width=width), "in")[:2])
    assert (float(bow.get("cx")), float(bow.get("cy"))) == pytest.approx((64, 120 - 74 * 0.1 / 0.75), abs=0.1)
    assert (float(stern.get("cx")), float(stern.get("cy"))) == pytest.approx((64 + (width - 84) / 2, 159.5), abs=0.1)


def test_in_and_out_have_shapes_and_words():
    svg = drawn()
    assert (len(marks(svg, "out")), len(marks(svg, "in"))) == (1, 3)
    assert {"+0.7", "\N{MINUS SIGN}0.4", "in", "within", "out", "material left", "cut too deep"} <= set(words(svg))
    assert {"+0.5 mm", "bow", "along the outline, 2000 mm all around"} <= set(words(svg))
    told = ElementTree.fromstring(svg).find(f"{NS}desc").text
    assert told.startswith("4 points, 1 out. bow: +0.1. port: +0.7.")


def test_inches_and_the_check_before():
    svg = drawn("bow @ 0: +0.254", limit=0.508, units=US, before=read_points("Bow @ 0: 0.1; gone: 3"))
    assert {"+0.01", "+0.02 in", "the check before"} <= set(words(svg))
    assert len(marks(svg, "was")) == 1


def test_far_off_stands_at_the_rim_with_a_broken_stem():
    # It reaches 4 * 0.5 = 2 mm: a gouge of 9 stands at the rim, 120 + 74 = 194, and 0.5 keeps its place at 18.5.
    svg = drawn("bow @ 0: -9; stern @ 1000: 0.5")
    stems = [
        one.get("d")
        for one in ElementTree.fromstring(svg).iter(f"{NS}path")
        if re.match(r"M[\d.]+ 120\.0V", one.get("d"))
    ]
    assert any("l5 4l-10 4l5 4" in way and way.endswith("V194.0") for way in stems)
    assert any(way.endswith("V101.5") for way in stems)
    assert "\N{MINUS SIGN}9" in words(svg)


def test_by_gauge_alone_there_is_no_scale():
    svg = drawn("the whole edge: out", limit=None, length=None)
    assert {"out", "the whole edge", "in the order of the check", "out, by gauge"} == set(words(svg))


def test_long_names_give_way_to_the_numbers_of_the_table():
    many = "; ".join(f"a long name of station {n} @ {n * 100}: 0.1" for n in range(16))
    assert {"1", "16"} <= set(words(drawn(many)))


def test_without_a_tolerance_nothing_measured_is_out():
    point = read_points("bow @ 0: 9")[0]
    assert (is_out(point, None), is_out(point, 0.5)) == (False, True)
    assert "measured, without a tolerance" in words(drawn("bow @ 0: 9", limit=None))


def test_nothing_said_no_picture_and_names_are_escaped():
    assert drawn("bow @ 0; stern @ 900") == ""
    svg = on_paper(drawn("<b> @ 0: out"))
    assert "<b>" not in svg
    assert set(re.findall(r"#[0-9a-f]{3,6}", svg)) == {"#000", "#fff"}
