"""Tolerances that add up, against figures printed elsewhere. Sources stand at each test."""

import pytest

from trimfixtures.calc.guide import stack
from trimfixtures.calc.refusal import Refusal


def test_three_tolerances():
    """Common practice, no source: .005, .003 and .002 in: .010 at worst, RSS .00616."""
    found = stack([0.005, 0.003, 0.002])
    assert found.worst_case == pytest.approx(0.010)
    assert found.rss == pytest.approx(0.00616, abs=5e-6)


def test_three_tolerances_in_a_fourth():
    """By hand, the same with a fourth: in a housing of .005 in: .015 at worst, RSS .00794."""
    found = stack([0.005, 0.003, 0.002, 0.005])
    assert (found.worst_case, found.rss) == (pytest.approx(0.015), pytest.approx(0.00794, abs=5e-6))


def test_ten_tolerances():
    """Common practice, no source: ten of 0.1: 1.0 at worst, RSS 0.316."""
    found = stack([0.1] * 10)
    assert (found.worst_case, found.rss) == (pytest.approx(1.0), pytest.approx(0.316, abs=5e-4))


def test_one_alone_is_itself():
    assert (stack([0.2]).worst_case, stack([0.2]).rss) == (0.2, 0.2)


@pytest.mark.parametrize(("wrong", "code"), [([], "no_tolerances"), ([0.1, -0.1], "tolerance_below_zero")])
def test_what_cannot_be_added_up_is_refused(wrong, code):
    with pytest.raises(Refusal) as refused:
        stack(wrong)
    assert refused.value.code == code
