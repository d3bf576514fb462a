"""A holder beside the steepest wall in words: touching is not clear, and what is told to be put out clears."""

from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest

from tooling.models import MillingPass
from tooling.selectors.plug import pass_of
from tooling.words import plug_wall
from tooling.words.plug import passes_said

COLUMNS = MillingPass.OF_WALL


def a_pass(*sizes, **more):
    return pass_of(
        MillingPass(
            kind="finishing", **{name: Decimal(str(one)) for name, one in zip(COLUMNS, sizes, strict=False)}, **more
        )
    )


def mm(said):
    """What was told, as it goes into the form again."""
    number, unit = said.replace("\N{NO-BREAK SPACE}", " ").rsplit(" ", 1)
    return sum(Fraction(part) for part in number.split()) * (Fraction("25.4") if unit == "in" else 1)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_is_told_to_be_put_out_clears_and_is_set_by_hand(units):
    for ball, holder, height, angle in product(("12.7", 19.05, 25), (32, "50.8"), (70, 181.3), (62, 77.5, 84, 90)):
        out = mm(plug_wall.least_out(a_pass(ball, holder, 40, height, angle), units))
        assert (out * 16 / Fraction("25.4") if units == "us" else out).denominator == 1
        again = a_pass(ball, holder, float(out), height, angle)
        assert again.clears
        assert again.wall.clearance >= 0.9


@pytest.mark.parametrize(
    ("sizes", "stops", "clears"),
    [
        ((12, 12, 60, 100, 90), "just touches the steepest wall, or all but: that is not clear. Put the cutter at", ""),
        ((12, 40, "100.4", 100, 90), "or all but: that is not clear. Put the cutter at least 101", ""),
        ((12, 40, 60, 100, 90), "would be 14 mm in the steepest wall. Put the cutter at least 101", ""),
        ((12, 40, 102, 100, 90), "", "ends 2 mm below"),
        ((12, 9, 60, 100, 90), "", "clears the steepest wall by 1.5"),
    ],
)
def test_touching_is_not_clear(sizes, stops, clears):
    one = a_pass(*sizes)
    said = " ".join(plug_wall.stops(one, "metric")).replace("\N{NO-BREAK SPACE}", " ")
    assert (stops in said, bool(stops)) == (True, bool(said))
    assert (clears in plug_wall.clears(one, "metric").replace("\N{NO-BREAK SPACE}", " "), one.clears) == (
        True,
        not stops,
    )


@pytest.mark.parametrize(
    ("cutter", "said"),
    [("ball end 20 mm", "ball end 20 mm"), ("ball end 120 mm", "ball end 120 mm, ball Ø 20 mm"), ("", "ball Ø 20 mm")],
)
def test_a_ball_that_the_cutter_is_called_by_is_said_once(cutter, said):
    facts = passes_said([a_pass(20, cutter=cutter)], "metric")[0].facts
    assert facts[0].words.replace("\N{NO-BREAK SPACE}", " ") == said
