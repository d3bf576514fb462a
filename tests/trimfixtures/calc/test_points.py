"""The points of a check and what was found there, as text and back."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trimfixtures.calc.points import Point, read_points, write_points
from trimfixtures.calc.refusal import Refusal


def test_the_points_of_a_trim_mask():
    text = "bow @ 0; stern @ 900"
    assert read_points(text) == (Point("bow", 0), Point("stern", 900))
    assert write_points(read_points(text)) == text
    assert read_points("") == read_points(" ; ") == ()


def test_what_a_check_found():
    text = "bow @ 0: +0.3; mid @ 450.5: 0; stern @ 900: in; keel: out; chine: -0.25"
    assert read_points(text) == (
        Point("bow", 0, 0.3),
        Point("mid", 450.5, 0),
        Point("stern", 900, within=True),
        Point("keel", within=False),
        Point("chine", deviation=-0.25),
    )
    assert write_points(read_points(text)) == text


def test_signs_and_spaces_as_people_write_them():
    assert read_points("port  bow@1,5:−0,3 ;BOW @ 0 : IN;") == (
        Point("port bow", 1.5, -0.3),
        Point("BOW", 0, within=True),
    )


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("@ 900", "no_name"),
        (": in", "no_name"),
        ("bow @", "no_number"),
        ("bow @ 1 @ 2", "no_number"),
        ("bow @ 0:", "no_number"),
        ("bow @ 0: fine", "no_number"),
        ("bow @ 1,250", "no_number"),
        ("bow @ 0: 1 mm", "no_number"),
        ("bow @ -1", "below_zero"),
        ("bow @ 0; Bow @ 9", "name_twice"),
    ],
)
def test_what_is_no_point_is_refused(text, code):
    with pytest.raises(Refusal) as refused:
        read_points(text)
    assert refused.value.code == code


@pytest.mark.parametrize(
    ("point", "code"),
    [
        ({"name": "bow: port"}, "sign_in_name"),
        ({"name": "a;b"}, "sign_in_name"),
        ({"name": " "}, "no_name"),
        ({"name": "bow", "along": math.nan}, "below_zero"),
    ],
)
def test_a_point_that_could_not_be_read_back_is_refused(point, code):
    with pytest.raises(Refusal) as refused:
        Point(**point)
    assert refused.value.code == code


def test_a_number_that_is_none_is_not_written():
    with pytest.raises(Refusal, match="no number"):
        write_points([Point("bow", 0, deviation=math.inf)])


NUMBERS = st.decimals(-9999, 9999, places=6).map(float)
FOUND = st.one_of(
    st.just({}), NUMBERS.map(lambda number: {"deviation": number}), st.booleans().map(lambda one: {"within": one})
)


@settings(max_examples=30)
@given(st.lists(st.tuples(st.one_of(st.none(), NUMBERS.map(abs)), FOUND), max_size=6))
def test_what_is_written_is_read_as_it_was(found):
    points = tuple(Point(f"point {i}", along, **more) for i, (along, more) in enumerate(found))
    assert read_points(write_points(points)) == points
