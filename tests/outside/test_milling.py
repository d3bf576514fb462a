"""What milling leaves, takes and touches, against figures printed elsewhere. Sources stand at each test."""

from math import asin, degrees

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tooling.calc.milling import finishing_pass, scallop_height, step_over_for, wall_clearance, widest_step

INCH = 25.4


def test_the_finishing_pass_of_a_plug():
    """Common practice, no source: step-over 0.030 in, ball of 3/4 in; the height is geometry: 0.000300 in."""
    assert scallop_height(0.030, 0.75) == pytest.approx(0.000300, abs=5e-7)


# Step-over, ball diameter, scallop, with as many digits: in mm, the last in inches.
FINE = [(0.5, 6, 0.01043, 5e-6), (0.5, 12, 0.0052, 2e-5), (0.05, 0.5, 0.001253, 1e-6)]


@pytest.mark.parametrize(("step_over", "ball", "height", "known_to"), FINE)
def test_fine_scallops_by_hand(step_over, ball, height, known_to):
    """By hand, R - sqrt(R² - s² / 4): R 3 and R 6, and R 0.25 in."""
    assert scallop_height(step_over, ball) == pytest.approx(height, abs=known_to)
    assert step_over_for(height, ball) == pytest.approx(step_over, rel=5e-3)


def test_scallops_by_hand():
    """By hand, triangles of 3, 4 and 5: R 5, step-over 6: 1; on a slope of 60 degrees 3 leaves as much."""
    assert scallop_height(6, 10) == pytest.approx(1)
    assert scallop_height(3, 10, slope_deg=60) == pytest.approx(1)
    assert step_over_for(1, 10) == pytest.approx(6)
    assert step_over_for(1, 10, slope_deg=60) == pytest.approx(3)
    assert (scallop_height(10, 10), step_over_for(5, 10), scallop_height(0, 10)) == (5, pytest.approx(10), 0)


def test_small_ridges_keep_their_digits():
    """By hand: far below the ball h is s² / (4 · diameter)."""
    assert scallop_height(1e-6, 20) == pytest.approx(1e-12 / 80, rel=1e-9)


@pytest.mark.parametrize(
    ("given", "passes", "path", "minutes"),
    [
        ((600, 5000, 0.6, 4000), 1001, 5_005_000, 1251.25),
        ((600, 5000, 0.6, 4000, False), 1001, 10_010_000, 2502.5),
        ((10, 100, 3, 50), 5, 500, 10),  # 3 1/3 steps are 4, and both rims
        ((2, 100, 3, 50), 2, 200, 4),
    ],
)
def test_passes_by_hand(given, passes, path, minutes):
    """By hand: a count of lines."""
    found = finishing_pass(*given)
    assert (found.passes, found.path_length, found.minutes) == (passes, path, pytest.approx(minutes))


STEEP = degrees(asin(0.8))  # leans back by 0.6 in 0.8, from the upright


@pytest.mark.parametrize(
    ("given", "clearance", "clears"),
    [
        ((10, 40, 25, 100, STEEP), 1.25, True),  # (5 + 20 · 0.6) / 0.8 = 21.25 from the axis
        ((10, 44, 25, 100, STEEP), -0.75, False),
        ((12, 40, 60, 100, 90), -14, False),  # beside an upright wall: the radii alone
        ((12, 12, 60, 100, 90), 0, True),
        ((12, 40, 60, 50, 90), 10, True),  # it ends below the holder
        ((12, 6, 60, 50, 90), (3**2 + 10**2) ** 0.5, True),
    ],
)
def test_walls_by_hand(given, clearance, clears):
    """By hand, geometry, with a triangle of 3, 4 and 5."""
    found = wall_clearance(*given)
    assert (found.clearance, found.clears) == (pytest.approx(clearance), clears)


def test_what_would_clear_the_wall():
    """By hand: 42.5 wide is touched by the wall of 3, 4 and 5; where none leans back it is the wall's own height."""
    found = wall_clearance(10, 42.5, 25, 100, 80)
    assert (found.clears, found.steepest_angle_deg) == (False, pytest.approx(STEEP))
    assert wall_clearance(10, 42.5, 20, 100, STEEP).least_stickout == pytest.approx(25)
    assert wall_clearance(10, 42.5, 20, 100, 90).least_stickout == 100
    assert wall_clearance(10, 8, 20, 100, 90).steepest_angle_deg == 90


SIZES = st.integers(1, 4000).map(lambda marks: marks / 64)
SLOPES = st.integers(0, 89)


@settings(max_examples=25)
@given(SIZES, SLOPES, st.floats(0, 1), st.floats(0, 1))
def test_finer_steps_never_leave_more(ball, slope, one, other):
    finer, coarser = sorted(share * widest_step(ball, slope) for share in (one, other))
    assert scallop_height(finer, ball, slope) <= scallop_height(coarser, ball, slope)
    again = step_over_for(scallop_height(coarser, ball, slope), ball, slope)
    assert again == pytest.approx(coarser, abs=1e-6 * ball)


@settings(max_examples=25)
@given(SIZES, SIZES, SIZES, SIZES, st.integers(1, 90), st.floats(0, 1), st.booleans())
def test_inch_and_metric_give_the_same_plug(ball, holder, out, height, angle, share, both_ways):
    slope, stickout = angle - 1, ball / 2 + out
    step = max(share, 0.01) * widest_step(ball, slope)
    assert scallop_height(step * INCH, ball * INCH, slope) == pytest.approx(scallop_height(step, ball, slope) * INCH)
    small, large = (finishing_pass(height * to, holder * to, step * to, 100 * to, both_ways) for to in (1, INCH))
    assert (large.passes, large.minutes) == (small.passes, pytest.approx(small.minutes))
    inch, mm = (wall_clearance(ball * to, holder * to, stickout * to, height * to, angle) for to in (1, INCH))
    assert mm.clearance == pytest.approx(inch.clearance * INCH, abs=1e-6)
    assert mm.steepest_angle_deg == pytest.approx(inch.steepest_angle_deg, abs=1e-6)
    assert mm.least_stickout == pytest.approx(inch.least_stickout * INCH)


@settings(max_examples=25)
@given(SIZES, SIZES, SIZES, SIZES, st.integers(1, 90))
def test_what_is_said_to_clear_clears(ball, holder, out, height, angle):
    found = wall_clearance(ball, holder, ball / 2 + out, height, angle)
    assert wall_clearance(ball, holder, found.least_stickout, height, angle).clearance >= -1e-6
    steepest = found.steepest_angle_deg
    assume(steepest > 0.01)
    assert wall_clearance(ball, holder, ball / 2 + out, height, steepest - 0.001).clears
    assert steepest == 90 or not wall_clearance(ball, holder, ball / 2 + out, height, min(90, steepest + 0.01)).clears


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: scallop_height(10.1, 10), "The step-over is 10.1; with this ball and slope it goes from 0 to 10."),
        (lambda: scallop_height(-1, 10), "from 0 to 10"),
        (lambda: scallop_height(1, 10, 90), "The slope is 90°"),
        (lambda: scallop_height(6, 10, 60), "from 0 to 5"),
        (lambda: scallop_height(float("nan"), 10), "from 0 to 10"),
        (lambda: scallop_height(1, 0), "The ball diameter is 0; it is above 0."),
        (lambda: step_over_for(6, 10), "The scallop is 6; with this ball it goes from 0 to 5."),
        (lambda: finishing_pass(10, 10, 0, 100), "The step-over is 0"),
        (lambda: finishing_pass(10, 10, 1, float("inf")), "The feed is inf"),
        (lambda: wall_clearance(10, 40, 4, 100, 80), "at least half the ball, 5"),
        (lambda: wall_clearance(10, 40, 25, 100, 91), "The wall is at 91°"),
        (lambda: wall_clearance(10, 40, 25, 100, 0), "above 0° to 90°"),
        (lambda: wall_clearance(10, 0, 25, 100, 80), "The holder diameter is 0"),
    ],
)
def test_what_is_out_of_range_is_refused(call, said):
    with pytest.raises(ValueError, match=r".") as refused:
        call()
    assert said in str(refused.value)
