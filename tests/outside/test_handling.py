"""What one person may lift, against the Applications Manual for the Revised NIOSH Lifting Equation.

DHHS (NIOSH) Publication 94-110, revised 9/2021. Its tables and the examples in inches are from memory; each of these
agrees with its own printed product. The manual's form in inches is rounded otherwise than the metric one (10 in for
25 cm, 51 lb for 23 kg, 0.0075 an inch for 0.003 a cm), so that both agree within 5 %, an index of one digit within 6 %.
"""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tooling.calc.handling import FREQUENCY, GRIPS, OutsideMethod, recommended_weight_limit

INCH, POUND = 2.54, 0.45359237


def test_example_4_in_its_metric_form():
    """NIOSH 94-110, example 4, metric: 23·1·0.94·0.87·1·0.88·0.95 = 15.72 kg."""
    found = recommended_weight_limit(25, 55, 145, lifts_per_min=3, hours=1, grip="fair")
    of = found.origin
    assert (of.horizontal, of.asymmetry, of.frequency, of.grip) == (1, 1, 0.88, 0.95)
    assert (of.vertical, of.distance) == pytest.approx((0.94, 0.87))
    assert found.origin_kg == pytest.approx(15.72, abs=0.005)
    # By hand: the end lies 70 cm above 75, where a fair grip is as good as any: 23·0.79·0.87·0.88
    assert found.destination_kg == pytest.approx(13.91, abs=0.005)
    assert found.limit_kg == found.destination_kg


# Reach, height at both ends (in), turn, load (lb); printed limits (lb) and index at the start and at the end.
EXAMPLES = [
    pytest.param(
        23, 15, 63, 0, 44, 16.3, 2.7, 14.5, 3.0, id="example 1: 51·.44·.89·.86·1·1·.95 and 51·.44·.75·.86·1·1·1"
    ),
    pytest.param(18, 15, 36, 45, 40, 18.9, 2.1, None, None, id="example 3: 51·.56·.89·.91·.86·1·.95"),
]


@pytest.mark.parametrize(("reach", "start", "end", "turn", "load", "limit", "index", "last", "last_index"), EXAMPLES)
def test_examples_in_inches(reach, start, end, turn, load, limit, index, last, last_index):
    """NIOSH 94-110, examples 1 and 3, seldom lifts with a fair grip; from memory."""
    found = recommended_weight_limit(reach * INCH, start * INCH, end * INCH, turn)
    assert found.origin_kg == pytest.approx(limit * POUND, rel=0.05)
    assert load * POUND / found.origin_kg == pytest.approx(index, rel=0.06)
    if last is not None:
        assert found.destination_kg == pytest.approx(last * POUND, rel=0.05)
        assert found.index(load * POUND) == pytest.approx(last_index, rel=0.06)


# Tables 1 to 4 of the manual, metric: what is asked, and the printed multiplier.
PRINTED = [
    ("horizontal", {"horizontal_cm": reach}, printed)
    for reach, printed in ((20, 1.00), (25, 1.00), (30, 0.83), (40, 0.63), (50, 0.50), (60, 0.42), (63, 0.40))
]
PRINTED += [
    ("vertical", {"origin_cm": height}, printed)
    for height, printed in ((0, 0.78), (30, 0.87), (75, 1.00), (100, 0.93), (150, 0.78), (175, 0.70))
]
PRINTED += [
    ("distance", {"destination_cm": 0, "origin_cm": way}, printed)
    for way, printed in ((10, 1.00), (25, 1.00), (40, 0.93), (70, 0.88), (100, 0.87), (175, 0.85))
]
PRINTED += [
    ("asymmetry", {"asymmetry_deg": turn}, printed)
    for turn, printed in ((0, 1.00), (15, 0.95), (45, 0.86), (90, 0.71), (135, 0.57))
]


@pytest.mark.parametrize(("name", "asked", "printed"), PRINTED)
def test_multipliers_that_the_tables_print(name, asked, printed):
    """NIOSH 94-110, tables 1 to 4, to the two digits that they print."""
    found = recommended_weight_limit(**{"horizontal_cm": 25, "origin_cm": 75, "destination_cm": 75, **asked})
    assert getattr(found.origin, name) == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(
    ("often", "hours", "below", "above"),
    [
        (0.1, 0.5, 1.00, 1.00), (0.2, 1, 1.00, 1.00), (1, 2, 0.88, 0.88), (1, 8, 0.75, 0.75), (9, 8, 0.00, 0.15),
        (11, 2, 0.00, 0.23), (12, 1, 0.37, 0.37), (13, 1, 0.00, 0.34), (15, 1, 0.00, 0.28), (16, 1, 0.00, 0.00),
        # between two rows the more frequent one counts
        (0.3, 1, 0.97, 0.97), (2.5, 2, 0.79, 0.79),
    ],
)  # fmt: skip
def test_how_often_takes_off_what_table_5_says(often, hours, below, above):
    """NIOSH 94-110, table 5."""
    found = recommended_weight_limit(25, 74.9, 75, lifts_per_min=often, hours=hours)
    assert (found.origin.frequency, found.destination.frequency) == (below, above)


@pytest.mark.parametrize(("grip", "below", "above"), [("good", 1, 1), ("fair", 0.95, 1), ("poor", 0.9, 0.9)])
def test_the_grip_takes_off_what_table_7_says(grip, below, above):
    """NIOSH 94-110, table 7."""
    found = recommended_weight_limit(25, 74.9, 75, grip=grip)
    assert (found.origin.grip, found.destination.grip) == (below, above)


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        ({"horizontal_cm": 63.1}, "reach"), ({"origin_cm": 175.1}, "height"), ({"destination_cm": 175.1}, "height"),
        ({"asymmetry_deg": 135.1}, "turn"), ({"hours": 8.1}, "hours"),
    ],
)  # fmt: skip
def test_outside_its_ranges_the_method_says_hoist(asked, code):
    """NIOSH 94-110, section 1.3: beyond them the multiplier is 0; the house says hoist."""
    with pytest.raises(OutsideMethod, match="Outside the method: hoist") as no:
        recommended_weight_limit(**{"horizontal_cm": 25, "origin_cm": 75, "destination_cm": 75, **asked})
    assert no.value.code == code


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"horizontal_cm": 0}, "The reach is 0 cm; it is above 0"),
        ({"horizontal_cm": math.nan}, "The reach is nan cm"),
        ({"origin_cm": -1}, "The height of the hands is -1 cm; it is 0 or more"),
        ({"asymmetry_deg": -1}, "The turn is -1 °; it is 0 or more"),
        ({"lifts_per_min": 0}, "The number of lifts a minute is 0; it is above 0"),
        ({"hours": math.inf}, "The time is inf hours"),
        ({"grip": "firm"}, "'firm' is no grip: it is one of good, fair, poor"),
    ],
)
def test_what_is_no_lift_is_refused_with_its_range(asked, words):
    with pytest.raises(ValueError, match=words) as no:
        recommended_weight_limit(**{"horizontal_cm": 25, "origin_cm": 75, "destination_cm": 75, **asked})
    assert not isinstance(no.value, OutsideMethod)


def test_the_reach_has_no_default():
    with pytest.raises(TypeError):
        recommended_weight_limit(origin_cm=75, destination_cm=75)


def test_where_nothing_is_left_no_load_has_a_finite_index():
    found = recommended_weight_limit(25, 75, 75, lifts_per_min=16)
    assert (found.limit_kg, found.index(0), found.index(0.1)) == (0, 0, math.inf)
    with pytest.raises(ValueError, match="The load is -1 kg"):
        found.index(-1)


LIFTS = st.fixed_dictionaries(
    {
        "horizontal_cm": st.floats(20, 63),
        "origin_cm": st.floats(0, 175),
        "destination_cm": st.floats(0, 175),
        "asymmetry_deg": st.floats(0, 135),
        "lifts_per_min": st.floats(0.1, 16),
        "hours": st.sampled_from([0.5, 1, 1.5, 2, 8]),
        "grip": st.sampled_from(sorted(GRIPS)),
    }
)


@settings(max_examples=40)
@given(LIFTS, st.floats(0, 300), st.floats(0, 300))
def test_heavier_never_has_a_lower_index(lift, one, other):
    found = recommended_weight_limit(**lift)
    light, heavy = sorted((one, other))
    assert found.index(light) <= found.index(heavy)


@settings(max_examples=40)
@given(LIFTS, st.floats(0, 43), st.floats(0, 135), st.floats(0, 15))
def test_farther_more_turned_or_more_often_is_never_more(lift, farther, turned, often):
    worse = {
        **lift,
        "horizontal_cm": min(lift["horizontal_cm"] + farther, 63),
        "asymmetry_deg": min(lift["asymmetry_deg"] + turned, 135),
        "lifts_per_min": lift["lifts_per_min"] + often,
    }
    assert recommended_weight_limit(**worse).limit_kg <= recommended_weight_limit(**lift).limit_kg + 1e-9


def in_pounds(reach, height, way, turn):
    """The manual's own form in inches and pounds, with a good grip, seldom: 51·10/H·(1-.0075|V-30|)·(.82+1.8/D)·AM."""
    return (
        51 * 10 / max(reach, 10) * (1 - 0.0075 * abs(height - 30)) * (0.82 + 1.8 / max(way, 10)) * (1 - 0.0032 * turn)
    )


@settings(max_examples=40)
@given(st.floats(8, 24.8), st.floats(0, 68), st.floats(0, 68), st.floats(0, 135))
def test_inch_and_metric_agree(reach, start, end, turn):
    """Both forms of NIOSH 94-110, which differ in how they are rounded."""
    found = recommended_weight_limit(reach * INCH, start * INCH, end * INCH, turn, grip="good")
    for kg, height in ((found.origin_kg, start), (found.destination_kg, end)):
        assert kg == pytest.approx(in_pounds(reach, height, abs(end - start), turn) * POUND, rel=0.05)


def test_table_5_takes_off_more_the_more_often_and_the_longer():
    for row, next_row in pairwise(FREQUENCY):
        assert all(more <= less for less, more in zip(row[1:], next_row[1:], strict=True))
    assert all(row[1] >= row[3] >= row[5] and row[2] >= row[4] >= row[6] for row in FREQUENCY)
