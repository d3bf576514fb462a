"""What is said of a line of readings, verdict by verdict. Readings are invented; the numbers are worked out by hand."""

import math

import pytest

from tooling.calc.trend import Crossing, crossing, meets, straight_line

TENS = [0, 10, 20, 30, 40]
# Off the line by turns: a trend that chance does not make, and no more.
WOBBLE = [0.1, -0.1, -0.1, 0.1, 0.0]


def line(slope: float, wobble=WOBBLE, x=TENS) -> list[float]:
    return [slope * at + off for at, off in zip(x, wobble, strict=True)]


@pytest.mark.parametrize(
    ("pulls", "readings", "limit", "worse", "verdict"),
    [
        ([], [], 6, None, "no_readings"),
        ([0, 10], [1, 7], 6, None, "past_limit"),
        ([10, 0], [7, 1], 6, None, "past_limit"),
        ([0, 10], [9, 5], 6, None, "past_limit"),
        ([0, 10], [9, 5], 6, "up", "too_few"),
        # two readings of one visit are one, and their mean counts
        ([*TENS[:4], 30], [0, 1, 2, 2, 4], 6, None, "too_few"),
        ([0, 2, 4, 6, 8], line(1), 60, None, "short_span"),
        (TENS, [1, 1, 1, 1, 1], 6, None, "no_trend"),
        (TENS, [1, 3, 0, 2, 1.5], 6, None, "no_trend"),
        (TENS, line(-0.1), 6, None, "moving_away"),
        (TENS, line(0.1), -6, "down", "moving_away"),
        (range(0, 80, 10), [at * at / 1000 for at in range(0, 80, 10)], 60, None, "not_straight"),
        (range(0, 60, 10), [0.0, 0.1, 0.0, 5.0, 5.1, 5.0], 60, None, "step"),
        (TENS, line(0.01, [off / 100 for off in WOBBLE]), 60, None, "not_before"),
        (TENS, line(0.1), 6, None, "reaches"),
        (TENS, line(-0.1), -6, None, "reaches"),
    ],
)
def test_the_first_that_holds_is_said(pulls, readings, limit, worse, verdict):
    assert crossing(list(pulls), list(readings), limit, worse=worse).verdict == verdict


def test_without_an_error_the_three_are_one():
    assert crossing(TENS, line(0.1, [0] * 5), 6) == Crossing("reaches", *(pytest.approx(60),) * 3)


def test_the_limit_itself_is_not_past_it():
    assert crossing(TENS, line(0.1, [0] * 5), 4).verdict == "reaches"


@pytest.mark.parametrize("slope", [0.1, -0.1])
def test_early_lies_before_late_and_more_confidence_lies_wider(slope):
    narrow, wide = (crossing(TENS, line(slope), 60 * slope, confidence) for confidence in (0.9, 0.95))
    assert wide.early < narrow.early < narrow.at < narrow.late < wide.late


def test_in_which_order_readings_come_is_all_the_same():
    assert crossing(TENS[::-1], line(0.1)[::-1], 6) == crossing(TENS, line(0.1), 6)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"readings": [1]}, "5 pull counts and 1 readings"),
        ({"limit": math.nan}, "limit is nan"),
        ({"readings": [1, 2, 3, 4, math.inf]}, "is inf"),
        ({"confidence": 1}, "between 0 and 1"),
        ({"worse": "left"}, "up, down"),
    ],
)
def test_what_cannot_be_read_is_refused(wrong, said):
    with pytest.raises(ValueError, match=said):
        crossing(**{"pulls": TENS, "readings": line(0.1), "limit": 6, **wrong})


@pytest.mark.parametrize(
    ("x", "y", "said"),
    [
        ([1, 2], [1, 2], "3 or more"),
        ([1, 2, 3], [1, 2], "3 x and 2 y"),
        ([1, 1, 1], [1, 2, 3], "two places"),
        ([1, 2, math.nan], [1, 2, 3], "nan"),
    ],
)
def test_no_line_is_drawn_through_too_little(x, y, said):
    for draw in (straight_line, lambda x, y: meets(x, y, 9)):
        with pytest.raises(ValueError, match=said):
            draw(x, y)


def test_a_slope_that_may_be_chance_meets_nothing():
    with pytest.raises(ValueError, match="below 1"):
        meets(TENS, [1, 3, 0, 2, 1.5], 6)
