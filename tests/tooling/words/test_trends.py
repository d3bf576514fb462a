"""Where readings are going, in words: every verdict has its sentence."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from tests.tooling.views.works import NOW, ago
from tooling.calc.trend import Crossing, Line
from tooling.models.reading_keys import key_of
from tooling.words import trends

UTC = NOW.tzinfo


def series(verdict, at=None, early=None, late=None, *, visits=(), begun=None, now=100, unit="GU"):
    row = SimpleNamespace(worse="down", tool_id=None, kind="mold", note="")
    return SimpleNamespace(
        key=key_of("gloss", unit, "60°"), quantity="gloss", geometry="60°", unit=unit, now=now,
        crossing=Crossing(verdict, at, early, late), limit=SimpleNamespace(value=70.0, row=row),
        current=SimpleNamespace(begun=begun, visits=visits), line=None, spots_past=0, spot="",
    )  # fmt: skip


def said(one, units="metric", kind="mold"):
    return trends.sentence(one, kind, units, NOW, UTC)


@pytest.mark.parametrize(
    ("one", "wanted"),
    [
        (
            series("reaches", 146.9, 131.2, 170.0),
            "Gloss 60° reaches 70 GU after about 46 pulls more, hardly before 31 (one in twenty sooner).",
        ),
        (series("reaches", 146.0, 99.0, 170.0), "Gloss 60° may be at 70 GU now: measure it before it is used again."),
        (
            series("not_before", 900.0, 500.0, 1200.0),
            "Gloss 60° changes, but hardly reaches 70 GU within the next 400 pulls, if it goes on so.",
        ),
        (series("past_limit"), "Gloss 60° is past the limit of 70 GU."),
        (series("too_few", visits=[1]), "1 visit: it takes 5 to tell where it is going."),
        (
            series("too_few", visits=[1, 2], begun=SimpleNamespace(kind="repair", at=ago(days=40))),
            "2 visits since it was repaired 2 April: it takes 5 to tell where it is going.",
        ),
        (
            series("no_readings", begun=SimpleNamespace(kind="polish", at=ago(days=40))),
            "Not measured since it was polished 2 April.",
        ),
        (
            series("short_span"),
            "Its visits lie less than 10 pulls apart: too close together to tell where it is going.",
        ),
    ],
)
def test_each_verdict_in_a_sentence(one, wanted):
    assert said(one) == wanted


@pytest.mark.parametrize("verdict", ["no_trend", "moving_away", "not_straight", "step"])
def test_the_others_have_no_number(verdict):
    assert not any(letter.isdigit() for letter in said(series(verdict)))


def test_a_trim_mask_counts_parts_and_lengths_are_in_the_readers_units():
    assert "after about 46 parts more" in said(series("reaches", 146.9, 131.2, 170.0), kind="trim_mask")
    assert trends.amount(2.54, "mm", "us") == "0.1 in"
    assert trends.amount(84.2333, "GU", "us") == "84.23 GU"
    assert trends.amount(1e30, "", "us") == "1e+30"
    assert trends.amount(-0.25, "mm", "metric") == "\N{MINUS SIGN}0.25 mm"


def test_the_working_names_the_line_in_the_readers_unit():
    one = series("reaches", 20.0, 15.0, 30.0, visits=[SimpleNamespace(pulls=0), SimpleNamespace(pulls=12)], unit="mm")
    one.line = Line(0.0, 0.254, 0.0254, 0.1, 0.1, 0.98)
    text = " ".join(trends.working(one, "mold", "us"))
    assert "2 visits count, from 0 to 12 pulls" in text
    assert "+0.1 in over ten pulls" in text
    assert "standard deviation of 0.001 in" in text
    assert "It meets the limit at 20 pulls in all; with 90 % between 15 and 30, 5 % on each side" in text


def test_a_limit_says_for_what_it_holds():
    one = series("past_limit")
    assert trends.whose_limit(one, "metric") == "At least 70 GU, for every mold."
    one.limit.row.tool_id, one.limit.row.note, one.limit.value = 3, "Dull below.", float(Decimal("70.5"))
    assert trends.whose_limit(one, "metric") == "At least 70.5 GU, for this tool alone. Dull below."


def test_when_nothing_is_said_stands_with_from_how_many_visits_on():
    text = trends.when_silent()
    assert "fewer than 5 visits or 10 pulls" in text
    assert "where a step shows, from 6 visits on, or a bend, from 8 on (p < 0.01)" in text
    assert "where the slope may be chance, by the same 90 %;" in text
