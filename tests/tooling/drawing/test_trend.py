"""The picture of readings: round numbers beside it, the line only where it may be followed, the same on paper."""

import re

import pytest

from tooling.drawing import ink
from tooling.drawing.trend import DESK, MOST, PHONE, Mark, Meets, Trend, said, ticks, trend


def shown(**more):
    marks = [Mark(10 * n, 90 - 2 * n, 89 - 2 * n, 91 - 2 * n) for n in range(1, 7)]
    given = {"title": "Gloss", "told": "It falls.", "unit": "GU", "along": "pulls", "now": 60, "current": marks}
    return Trend(**{**given, **more})


@pytest.mark.parametrize(
    ("low", "high", "wanted"),
    [
        (67.4, 92.1, [70, 75, 80, 85, 90]),
        (0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1]),
        (-3, 12, [-2.5, 0, 2.5, 5, 7.5, 10]),
        (0.315, 0.385, [0.32, 0.34, 0.36, 0.38]),
    ],
)
def test_round_numbers_within_the_field(low, high, wanted):
    assert ticks(low, high) == pytest.approx(wanted)


def test_a_number_beside_an_axis():
    assert (said(0.1 + 0.2), said(-2.5)) == ("0.3", "\N{MINUS SIGN}2.5")


def test_nothing_is_drawn_of_nothing():
    assert trend(shown(current=[])) == ""


def test_the_line_is_drawn_only_where_it_is_given():
    plain = trend(shown(limit=70.0, limit_said="limit 70 GU", worse="down"))
    met = trend(shown(limit=70.0, line=(90.0, -0.2), meets=Meets(100, 90, 115), worse="down"))
    assert "limit 70 GU" in plain
    assert "straight line through them" not in plain
    assert ("straight line through them" in met, "earliest to latest at the limit" in met) == (True, True)
    assert 'stroke-dasharray="1 5"' in met


@pytest.mark.parametrize("width", [PHONE, DESK])
@pytest.mark.parametrize("late", [115, 9_000])
def test_everything_stays_in_the_picture(width, late):
    works = [(5, "resurfaced"), (58, "polished"), (59, "repaired")]
    more = {"limit": 70.0, "limit_said": "limit 70 GU", "line": (90.0, -0.2), "meets": Meets(100, 90, late)}
    drawn = trend(shown(works=works, earlier=[[Mark(2, 95, 95, 95), Mark(4, 91, 91, 91)]], **more), width)
    high = float(re.search(r'height="(\d+)"', drawn)[1])
    for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", drawn):
        assert 0 <= float(x) <= width
        assert 0 <= float(y) <= high


def test_a_long_history_draws_its_newest_visits():
    many = [Mark(n, 80, 80, 80) for n in range(MOST + 100)]
    assert trend(shown(current=many)).count("h.01") == MOST + 1  # and the one of the legend


def test_on_paper_it_is_black():
    drawn = ink.on_paper(trend(shown(limit=70.0)))
    assert (ink.CHALK in drawn, '"Shop Paper"' in drawn) == (False, True)
