"""Sections, marks and hatching: each kind has its own, well formed, named in words, without ids or inline looks."""

from itertools import product
from xml.etree import ElementTree

import pytest

from tooling.drawing.lines import curve, hatching, torn_strip
from tooling.drawing.marks import came_off_mark, history_tick, sign, state_mark
from tooling.drawing.sections import kind_mark, kind_picture

KINDS = ("plug", "mold", "insert", "trim_mask")
CAME_OFF = ("free", "light", "tight", "stuck", "lost")
SQUARE = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)]


def all_drawings() -> list[str]:
    ticks = [history_tick(kind, "HULL520", 1) for kind in ("pull", "coat", "strip")]
    ticks += [history_tick("pull", "HULL520", 1, came_off="tight"), history_tick("pull", "HULL520", 1, void=True)]
    pictures = [
        kind_picture(kind, part_in=part, held=held) for kind, part, held in product(KINDS, (False, True), (False, True))
    ]
    marks = [came_off_mark(word) for word in CAME_OFF] + [state_mark(mark) for mark in ("held", "coat", "part")]
    return [kind_mark(kind) for kind in KINDS] + pictures + marks + ticks + [sign()]


def test_drawings_are_well_formed_and_carry_no_id_and_no_inline_style():
    for svg in all_drawings():
        picture = ElementTree.fromstring(svg)
        assert (picture.get("role") == "img" and picture.get("aria-label")) or picture.get("aria-hidden") == "true"
        assert not any({"id", "style"} & set(element.keys()) for element in picture.iter())


def test_no_two_drawings_are_alike():
    drawings = all_drawings()
    assert len(set(drawings)) == len(drawings)


def test_a_picture_says_what_it_shows():
    assert 'aria-label="Section, a shell over a void: a mold, with a part in it"' in kind_picture("mold", part_in=True)
    assert "d-weave" in kind_picture("mold", part_in=True)
    assert "d-weave" not in kind_picture("mold")
    assert 'aria-label="Section, a loose piece: a mold insert, taped off: held"' in kind_picture("insert", held=True)
    assert kind_picture("insert", held=True).count("d-tape") == 2


def test_a_hard_pull_is_crossed_and_a_void_one_dotted():
    assert "t-hard" in history_tick("pull", "HULL520", 7, came_off="stuck")
    assert "t-hard" not in history_tick("pull", "HULL520", 7, came_off="light")
    assert "t-void" in history_tick("coat", "HULL520", 7, void=True)


@pytest.mark.parametrize("way", [1, -1])
def test_hatching_stays_inside_its_outline(way):
    numbers = [float(n) for n in hatching(SQUARE, 5, way).replace("M", " ").replace("L", " ").split()]
    assert len(numbers) > 20
    assert all(-0.1 <= n <= 20.1 for n in numbers)


def test_a_curve_begins_and_ends_where_it_should():
    points = curve((0, 0), (0, 10), (10, 10), (10, 0), 8)
    assert (points[0], points[-1], len(points)) == ((0, 0), (10, 0), 9)


def test_a_strip_of_tape_has_ten_points():
    tear = ((0, 1, 0, 1, 0), (0, -1, 0, -1, 0))
    assert len(torn_strip((0, 0), (50, 0), 4, tear).split()) == 10
