"""The check of a cut edge against figures printed elsewhere. Sources stand at each test."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tooling.calc.trend import crossing
from trimfixtures.calc.edges import capability, drift, is_drifting, judge
from trimfixtures.calc.points import Point, read_points
from trimfixtures.calc.refusal import Refusal

# 27 readings of mean 16 and standard deviation 2, as in the handbook: sums of squares 26 · 4.
EIGHT_TO_TWENTY = [16 + 2 * math.sqrt(26 / 18) * off for off in (-1, 0, 1)] * 9


def test_capability_as_in_the_handbook():
    """NIST/SEMATECH e-Handbook 6.1.6: limits 8 and 20, mean 16, s 2: Cp 1.0, Cpl 1.3333, Cpu and so Cpk 0.6667."""
    found = capability(EIGHT_TO_TWENTY, 8, 20)
    assert (found.mean, found.sd) == (pytest.approx(16), pytest.approx(2))
    assert (found.cp, found.cpk) == (pytest.approx(1.0), pytest.approx(0.6667, abs=5e-5))
    assert (found.few, found.count, found.out_of_limits) == (False, 27, 0)


def test_capability_is_less_by_k_off_the_middle():
    """The same page: Cpk = Cp (1 - k), k = |middle - mean| / half the limits; there k is 0.3333."""
    found = capability(EIGHT_TO_TWENTY, 8, 20)
    assert found.cpk == pytest.approx(found.cp * (1 - 0.3333), abs=5e-5)


def test_capability_about_a_target():
    """By hand from the same page's Cpm: target 14, 12 / (6 sqrt(4 + 4)) = 0.7071; at the mean itself it is Cp."""
    assert capability(EIGHT_TO_TWENTY, 8, 20).cpm == pytest.approx(1 / math.sqrt(2))
    assert capability(EIGHT_TO_TWENTY, 8, 20, target=16).cpm == pytest.approx(1.0)


def test_capability_of_an_exercise():
    """By hand: limits 100 and 150, mean 130, s 8: Cp 1.04, Cpk 0.83."""
    found = capability([122, 130, 138], 100, 150)
    assert (round(found.cp, 2), round(found.cpk, 2), found.few) == (1.04, 0.83, True)


def test_readings_that_do_not_spread_have_no_index():
    found = capability([0.1, 0.1], -0.3, 0.3)
    assert (found.sd, found.cp, found.cpk, found.cpm) == (0, None, None, pytest.approx(1.0))
    assert capability([0.4, 0.4, -0.4, 0.3], -0.3, 0.3).out_of_limits == 3


@settings(max_examples=25)
@given(st.lists(st.floats(-1, 1).map(lambda one: round(one, 3)), min_size=2, max_size=9))
def test_inch_and_metric_give_the_same_indexes(readings):
    inch, mm = capability(readings, -1, 1), capability([25.4 * one for one in readings], -25.4, 25.4)
    for one, other in ((inch.cp, mm.cp), (inch.cpk, mm.cpk), (inch.cpm, mm.cpm)):
        assert (one is None) == (other is None) or min(inch.sd, mm.sd) < 1e-12
        assert one is None or other is None or other == pytest.approx(one, rel=1e-6, abs=1e-9) or inch.sd < 1e-12


@pytest.mark.parametrize(
    ("readings", "lower", "upper", "code"),
    [
        ([0.1], -1, 1, "too_few_readings"),
        ([0.1, math.nan], -1, 1, "no_number"),
        ([0.1, 0.2], 1, -1, "limits_crossed"),
        ([0.1, 0.2], 1, 1, "limits_crossed"),
    ],
)
def test_what_says_nothing_of_capability_is_refused(readings, lower, upper, code):
    with pytest.raises(Refusal) as refused:
        capability(readings, lower, upper)
    assert refused.value.code == code


PARTS = [0, 10, 20, 30, 40]
DEEPER = [0.01, -0.11, -0.19, -0.31, -0.4]


def test_drift_is_the_line_of_readings_towards_its_side():
    """The house's own rule: a limit holds either way, so an edge that is cut deeper meets its negative."""
    assert drift(PARTS, DEEPER, 0.6) == drift(PARTS, DEEPER, -0.6) == crossing(PARTS, DEEPER, -0.6, worse="down")
    more = [-one for one in DEEPER]
    assert drift(PARTS, more, 0.6) == crossing(PARTS, more, 0.6, worse="up")
    assert drift(PARTS, more, 0.6).at == pytest.approx(59.14, abs=0.5)


@pytest.mark.parametrize(
    ("parts", "deviations", "verdict"),
    [
        ([], [], "no_readings"),
        (PARTS, [0, 0.1, 0.2, 0.3, -0.7], "past_limit"),
        (PARTS, [*DEEPER[:4], 0.61], "past_limit"),
        (PARTS[:4], DEEPER[:4], "too_few"),
        (PARTS, [0.1, -0.1, 0.1, -0.1, 0.1], "no_trend"),
    ],
)
def test_drift_says_when_there_is_nothing_to_say(parts, deviations, verdict):
    assert drift(parts, deviations, 0.6).verdict == verdict


@pytest.mark.parametrize(
    ("parts", "deviations", "drifts"),
    [
        (PARTS, DEEPER, True),
        (PARTS, [1, 1.2, 1.4, 1.6, 1.8], True),  # also where it is past any limit
        ([0, 10, 20, 30, 40, 50], [0, 0.01, 0, 0.5, 0.51, 0.5], True),  # a step
        (PARTS, [0.1, -0.1, 0.1, -0.1, 0.1], False),
        (PARTS[:4], DEEPER[:4], False),
        ([], [], False),
    ],
)
def test_readings_drift_wherever_their_limit_is(parts, deviations, drifts):
    """The house's own rule, by the verdicts of the line."""
    assert is_drifting(parts, deviations) is drifts


@pytest.mark.parametrize(
    ("text", "limit", "passed", "out", "left"),
    [
        ("bow: in; stern: in", None, True, [], []),
        ("bow: in; stern: out; keel @ 9", None, False, ["stern"], ["keel"]),
        ("bow @ 0: +0.3; stern @ 900: -0.2", 0.25, False, ["bow"], []),
        ("bow @ 0: +0.3; stern @ 900: -0.3", 0.3, True, [], []),
        ("bow: -0.1; stern: out", 0.25, False, ["stern"], []),
        ("bow: 0", 0, True, [], []),
    ],
)
def test_one_point_out_and_it_did_not_pass(text, limit, passed, out, left):
    found = judge(read_points(text), limit)
    assert (found.passed, [one.name for one in found.out], [one.name for one in found.left]) == (passed, out, left)
    assert len(found.good) + len(found.out) + len(found.left) == text.count(";") + 1


def test_the_worst_is_the_one_furthest_off():
    assert judge(read_points("a: +0.1; b: -0.2; c: in"), 0.5).worst == Point("b", deviation=-0.2)
    assert judge(read_points("c: in")).worst is None


@pytest.mark.parametrize(
    ("text", "limit", "code"),
    [("", None, "nothing_found"), ("a; b", None, "nothing_found"), ("a: 0.1", None, "limit_missing"),
     ("a: 0.1", -1, "tolerance_below_zero"), ("a: 0.1", math.nan, "tolerance_below_zero")],
)  # fmt: skip
def test_what_cannot_be_judged_is_refused(text, limit, code):
    with pytest.raises(Refusal) as refused:
        judge(read_points(text), limit)
    assert refused.value.code == code
