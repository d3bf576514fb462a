"""The outline of a part: read, measured, refused. Expected numbers are worked out by hand."""

import contextlib
import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trimfixtures.calc.crossing import first_pair
from trimfixtures.calc.outline import MOST_POINTS, read_outline, write_outline
from trimfixtures.calc.refusal import Refusal

DECK = "0 0; 900 0; 900 300; 0 300"


def arc(radius: float, degrees: float, step: float, x: float, y: float, start: float) -> list[tuple[float, float]]:
    """Points on an arc, against the clock from `start` degrees."""
    count = round(degrees / step)
    turns = [math.radians(start + degrees * i / count) for i in range(count + 1)]
    return [(round(x + radius * math.cos(t), 3), round(y + radius * math.sin(t), 3)) for t in turns]


def notched(radius: float, step: float) -> str:
    """A plate of 200 x 100 with a notch of 60 x 40 from above, the corners of its floor round."""
    right = [(x, y) for x, y in reversed(arc(radius, 90, step, 130 - radius, 60 + radius, 270))]
    left = [(x, y) for x, y in reversed(arc(radius, 90, step, 70 + radius, 60 + radius, 180))]
    return write_outline([(0, 0), (200, 0), (200, 100), (130, 100), *right, *left, (70, 100), (0, 100)])


@pytest.mark.parametrize("text", [DECK, f"{DECK}; 0 0;", DECK.replace(" 300", " 300,0"), DECK.replace("; ", ";\n\n")])
def test_it_is_read_once_around(text):
    outline = read_outline(text)
    assert outline.points == ((0, 0), (900, 0), (900, 300), (0, 300))
    assert (outline.length, outline.bounds) == (2400, (0, 0, 900, 300))


@pytest.mark.parametrize(
    ("along", "spot"),
    [(0, (0, 0)), (450, (450, 0)), (900, (900, 0)), (1050, (900, 150)), (2400, (0, 0)), (2399, (0, 1))],
)
def test_a_place_along_it(along, spot):
    assert read_outline(DECK).at(along) == pytest.approx(spot)


@pytest.mark.parametrize("along", [-1, 2400.1, math.nan])
def test_no_place_beyond_its_ends(along):
    with pytest.raises(Refusal, match=r"goes from 0 to 2400\.0 mm") as refused:
        read_outline(DECK).at(along)
    assert (refused.value.code, refused.value.values["length"]) == ("off_outline", 2400)


@pytest.mark.parametrize(
    ("spot", "is_inside"),
    [((450, 150), True), ((0, 0), True), ((450, 300), True), ((900, 10), True), ((901, 150), False), ((-1, 0), False)],
)
def test_what_is_inside(spot, is_inside):
    assert read_outline(DECK).contains(*spot) is is_inside


def test_a_notch_is_outside():
    outline = read_outline(notched(6, 5))
    assert not outline.contains(100, 80)
    assert outline.contains(100, 50)


@pytest.mark.parametrize(
    ("text", "code", "values"),
    [
        ("0 0; 9; 9 9", "not_a_point", {"number": 2, "text": "9"}),
        ("0 0; 9 x; 9 9", "not_a_point", {"number": 2, "text": "9 x"}),
        ("0 0; 1,250 0; 9 9", "not_a_point", {"number": 2, "text": "1,250 0"}),
        ("0 0; 9 1/2; 9 9", "not_a_point", {"number": 2, "text": "9 1/2"}),
        ("0 0 0; 9 0; 9 9", "not_a_point", {"number": 1, "text": "0 0 0"}),
        ("", "too_few", {"count": 0}),
        ("0 0; 9 0; 0 0", "too_few", {"count": 2}),
        ("0 0; 9 0; 9 0.0; 9 9", "twice", {"first": 2, "second": 3, "text": "9 0.0"}),
        ("0 0; 9 9; 9 0; 0 9", "crosses_itself", {"first": 1, "second": 3}),
        # a corner that touches a line, a line that runs back on another, and one on its neighbour
        ("0 0; 9 0; 9 9; 5 0; 0 9", "crosses_itself", {"first": 1, "second": 4}),
        ("0 0; 9 0; 9 5; 4 5; 4 0; 2 0; 2 5; 0 5", "crosses_itself", {"first": 1, "second": 6}),
        ("0 0; 9 0; 4 0; 4 9", "crosses_itself", {"first": 1, "second": 2}),
        ("0 0; 9 0; 9 9; 18 18", "crosses_itself", {"first": 3, "second": 4}),
    ],
)
def test_what_is_no_outline_is_refused(text, code, values):
    with pytest.raises(Refusal) as refused:
        read_outline(text)
    assert (refused.value.code, refused.value.values) == (code, values)


def test_the_greatest_is_read_in_no_time_and_one_more_is_refused():
    teeth = [(i, 100 * (i % 2)) for i in range(1, MOST_POINTS - 1)]
    comb = [(0, -1), *teeth, (MOST_POINTS, -1)]
    for turned in (comb, [(y, x) for x, y in comb], [(3 * x - y, x + 3 * y) for x, y in comb]):
        begun = time.process_time()
        assert len(read_outline(write_outline(turned)).points) == MOST_POINTS
        assert time.process_time() - begun < 0.3
    with pytest.raises(Refusal, match="more than 2000"):
        read_outline("; ".join("0 0" for _ in range(MOST_POINTS + 2)))


def side(a, b, spot):
    return (b[0] - a[0]) * (spot[1] - a[1]) - (b[1] - a[1]) * (spot[0] - a[0])


def on(a, b, spot):
    return side(a, b, spot) == 0 and min(a, b) <= spot <= max(a, b)


def touch(a, b, c, d):
    crosses = side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
    return crosses or on(a, b, c) or on(a, b, d) or on(c, d, a) or on(c, d, b)


@settings(max_examples=100)
@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=3, max_size=8, unique=True))
def test_it_meets_itself_where_any_two_of_its_lines_do(points):
    count = len(points)
    lines = [(points[i], points[(i + 1) % count]) for i in range(count)]
    apart = {(i, j) for i in range(count) for j in range(i + 2, count) if (i, j) != (0, count - 1)}
    wrong = {(i, j) for i, j in apart if touch(*lines[i], *lines[j])}
    for i, (corner, after) in enumerate(lines):
        if on(points[i - 1], corner, after) or on(corner, after, points[i - 1]):
            wrong.add((min(i, (i - 1) % count), max(i, (i - 1) % count)))
    assert first_pair(points) in (wrong or {None})


NUMBERS = st.decimals(-5000, 5000, places=3, allow_nan=False).map(float)


@settings(max_examples=30)
@given(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=3, max_size=8, unique=True))
def test_what_is_read_is_written_as_it_was(points):
    text = write_outline(points)
    with contextlib.suppress(Refusal):
        assert list(read_outline(text).points) == points
    assert text == write_outline([tuple(map(float, one.split())) for one in text.split(";")])


@pytest.mark.parametrize("step", [2, 5, 10, 15, 30])
def test_a_finely_drawn_arc_is_an_arc(step):
    outline = read_outline(notched(6, step))
    assert outline.inside_corners(6) == ()
    assert outline.inside_corners(5) == ()
    found = outline.inside_corners(8)
    assert [round(corner.radius) for corner in found] == [6, 6]
    # the middle of either round is (1 - 1/sqrt 2) R from both of its sides
    off = 6 * (1 - math.sqrt(0.5))
    near = {(130 - off, 60 + off), (70 + off, 60 + off)}
    assert all(min(math.dist((c.x, c.y), spot) for spot in near) < 2 for c in found)
    assert all(math.dist(outline.at(c.along), (c.x, c.y)) < 1e-6 for c in found)


def test_bare_corners_have_no_radius_and_only_those_into_the_part_count():
    around = [(0, 0), (200, 0), (200, 100), (130, 100), (130, 60), (70, 60), (70, 100), (0, 100)]
    for points in (around, around[::-1]):
        found = read_outline(write_outline(points)).inside_corners(3)
        assert {(c.x, c.y, c.radius) for c in found} == {(130, 60, 0), (70, 60, 0)}
    assert read_outline(DECK).inside_corners(50) == ()


def test_two_bends_far_from_each_other_are_no_arc():
    shallow = [(0, 0), (400, 0), (400, 100), (300, 70), (100, 70), (0, 100)]
    assert len(read_outline(write_outline(shallow)).inside_corners(12)) == 2


def test_points_on_a_straight_line_hide_no_corner():
    text = "0 0; 200 0; 200 100; 130 100; 130 61; 130 60; 129 60; 100 60; 70 60; 70 100; 0 100"
    assert [(c.x, c.y, c.radius) for c in read_outline(text).inside_corners(3)] == [(130, 60, 0), (70, 60, 0)]


def test_what_a_drawing_program_rounds_off_makes_no_corner():
    assert read_outline("0 0; 200 0; 200 100; 100.001 100; 100 99.999; 0 100").inside_corners(15) == ()
    assert read_outline("0 0; 0.01 0; 0.01 0.01").inside_corners(15) == ()


def test_a_tight_place_in_a_wide_bend_is_found():
    wide, tight = arc(60, 60, 2, 0, 0, 180), arc(10, 60, 5, -25, -43.301, 240)
    bend = [*wide, *tight[1:]]
    end = bend[-1]
    points = [(-60, 80), *bend, (end[0] + 80, end[1] + 46.2), (200, -200), (-200, -200), (-200, 80)]
    outline = read_outline(write_outline(points))
    assert outline.inside_corners(9) == ()
    assert [round(c.radius) for c in outline.inside_corners(12)] == [10]


@pytest.mark.parametrize("radius", [0, -1, math.inf, math.nan])
def test_a_round_of_no_size_is_refused(radius):
    with pytest.raises(Refusal, match="above 0"):
        read_outline(DECK).inside_corners(radius)
