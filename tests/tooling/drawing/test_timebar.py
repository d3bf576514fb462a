"""The time bar: where each shape stands, what is said in words, and a scale that closed hours do not eat up."""

import re
from datetime import datetime, timedelta
from itertools import pairwise
from time import process_time
from xml.etree import ElementTree
from zoneinfo import ZoneInfo

import pytest

from shared.paper import letters
from tooling.drawing.time_scale import Scale, Span, days, hours
from tooling.drawing.timebar import DESK, HANDS, PART, PHONE, WAIT, Piece, SurfaceLine, TimeBar, on_paper, timebar_svg

LISBON = ZoneInfo("Europe/Lisbon")


def at(day, hour, minute=0):
    """A moment of June 2026, of which the 1st is a Monday."""
    return datetime(2026, 6, day, hour, minute, tzinfo=LISBON)


def scale(begin, end, *opens):
    return Scale(begin, end, [Span(at(day, 8), at(day, 17)) for day in opens], LISBON)


ONE_DAY = scale(at(1, 8), at(1, 16), 1)
COATS = (
    Piece(HANDS, at(1, 8), at(1, 9)),
    Piece(WAIT, at(1, 9), at(1, 11)),
    Piece(HANDS, at(1, 11), at(1, 11, 1)),
    Piece(WAIT, at(1, 11, 1), at(1, 16)),
)
LINES = (
    SurfaceLine("DECK-2A", COATS),
    SurfaceLine("R<IM", (Piece(PART, at(1, 8), at(1, 10)),)),
    SurfaceLine("HATCH7", (), "nothing to do"),
)


def drawn(width=DESK, lines=LINES, on=ONE_DAY, line=None):
    return timebar_svg(TimeBar(lines, on, line or on.end, "now 08:00", "lay-up from 16:00"), width)


def shapes(svg, kind):
    return [one.attrib for one in ElementTree.fromstring(svg).iter() if one.get("class") == kind]


@pytest.mark.parametrize(("width", "left"), [(DESK, 150), (PHONE, 6)])
def test_every_piece_stands_where_its_time_is(width, left):
    hour = (width - left - 6) / 8
    found = [(float(one["x"]), float(one["width"])) for one in shapes(drawn(width), "b-hands")[:2]]
    assert found[0] == pytest.approx((left, hour), abs=0.1)
    # One minute is drawn as wide as can be seen.
    assert found[1] == pytest.approx((left + 3 * hour, max(3, hour / 60)), abs=0.1)
    line = shapes(drawn(width), "b-at")[0]["d"]
    assert float(re.match(r"M([\d.]+) ", line)[1]) == pytest.approx(left + 8 * hour, abs=0.1)


def test_nothing_leaves_the_picture_and_words_are_never_smaller_than_they_should_be():
    for width in (PHONE, DESK):
        root = ElementTree.fromstring(drawn(width))
        wide, high = (float(n) for n in root.get("viewBox").split()[2:])
        assert wide == width
        for word in (one for one in root.iter() if one.tag.endswith("text")):
            assert 0 <= float(word.get("x")) <= wide
            assert 0 < float(word.get("y")) <= high
            assert float(word.get("font-size")) >= 11
        assert "clip" not in drawn(width)


def test_the_widest_name_of_a_surface_ends_before_the_bar():
    name = "W" * 16
    word = next(
        one for one in ElementTree.fromstring(drawn(lines=[SurfaceLine(name, COATS)])).iter() if one.text == name
    )
    assert letters.width(name, float(word.get("font-size")), letters.BOLD) < 150


def test_what_is_drawn_is_named_and_what_is_not_is_not():
    svg = drawn()
    for word in (
        "DECK-2A",
        "R&lt;IM",
        "nothing to do",
        "hands at work",
        "waiting",
        "a part in it",
        "lay-up from 16:00",
    ):
        assert f">{word}<" in svg
    only = drawn(lines=LINES[2:])
    assert "a part in it" not in only
    assert "shop closed" not in svg
    assert 'aria-hidden="true"' in svg


def test_on_paper_it_is_black_on_white():
    svg = on_paper(drawn())
    assert set(re.findall(r"#\w+", svg)) == {"#000", "#fff", "#999"}
    assert "Shop Paper" in svg
    assert "sans-serif" not in svg


def test_a_weekend_takes_less_room_than_the_work_around_it():
    on = scale(at(5, 15), at(8, 10), 5, 8)
    friday, monday = on.share(at(5, 17)), on.share(at(8, 8))
    assert monday - friday == pytest.approx(0.08 / 1.08, abs=0.001)
    assert friday == pytest.approx(0.5 / 1.08, abs=0.001)
    assert "shop closed, drawn short" in drawn(on=on, lines=LINES[2:])


def test_time_never_runs_backward_on_it():
    on = scale(at(1, 6), at(12, 9), *range(1, 13))
    shares = [on.share(at(1, 6) + timedelta(minutes=17 * n)) for n in range(0, 970, 7)]
    assert shares == sorted(shares)
    assert (on.share(on.begin), on.share(on.end), on.share(at(30, 1))) == (0, pytest.approx(1), pytest.approx(1))
    gaps = 1 - sum(on.share(one.end) - on.share(one.begin) for one in on.open)
    assert gaps < 0.26


def test_a_shop_that_is_never_open_is_in_proportion():
    on = scale(at(6, 8), at(6, 12))
    assert on.share(at(6, 9)) == pytest.approx(0.25)
    assert [word for _at, word in days(on, 500, 76)] == ["Sat 6 Jun"]


def test_hours_stand_apart_and_the_hour_of_opening_stays():
    on = scale(at(1, 8), at(2, 12), 1, 2)
    for width in (280, 600):
        found = [(on.share(moment) * width, word) for moment, word in hours(on, width, 40)]
        assert all(later[0] - one[0] >= 40 for one, later in pairwise(found))
    words = [word for _x, word in found]
    assert (words.count("08:00"), words.count("17:00")) == (2, 0)
    assert [word for _at, word in hours(ONE_DAY, 600, 40)][:3] == ["08:00", "09:00", "10:00"]


def test_hours_are_those_of_the_clock_on_the_night_it_changes():
    # On 29 March 2026 Lisbon's clock leaps from 01:00 to 02:00.
    begin = datetime(2026, 3, 29, 0, 0, tzinfo=LISBON)
    end = datetime(2026, 3, 29, 4, 0, tzinfo=LISBON)
    on = Scale(begin, end, [Span(begin, end)], LISBON)
    assert [word for _at, word in hours(on, 200, 40)] == ["00:00", "02:00", "03:00"]


def test_no_words_lie_on_each_other_where_the_last_day_is_short():
    on = scale(at(1, 8), at(5, 8, 30), *range(1, 6))
    svg = drawn(width=640, on=on, lines=LINES[2:])
    found = [
        (float(one.get("x")), one.text)
        for one in ElementTree.fromstring(svg).iter()
        if one.tag.endswith("text") and " Jun" in (one.text or "")
    ]
    assert [word for _x, word in found] == ["Mon 1 Jun", "Tue 2 Jun", "Wed 3 Jun", "Thu 4 Jun"]


def test_where_days_alone_fit_no_hours_stand_and_a_long_time_is_drawn_at_once():
    begin = at(1, 8)
    weeks = [Span(begin + timedelta(days=n), begin + timedelta(days=n, hours=9)) for n in range(4000)]
    started = process_time()
    on = Scale(begin, weeks[-1].end, weeks, LISBON)
    assert len(days(on, 600, 76)) == 8
    assert process_time() - started < 1.5, "each moment is found among all windows at once"
    for many, width, any_hour in ((6, 280, True), (8, 280, False), (8, 600, True), (60, 600, False)):
        on = Scale(begin, weeks[many - 1].end, weeks[:many], LISBON)
        assert bool(hours(on, width, 40)) is any_hour
