"""Readings as series: with the pulls by then, in segments, against the limit that holds."""

from datetime import timedelta
from decimal import Decimal

import pytest
import time_machine

from tests.tooling.views.works import NOW, ago, do, mold, open_shop
from tooling.selectors.past_limits import past_limits
from tooling.selectors.readings import series
from tooling.selectors.release import standings
from tooling.services.reading_limits import set_limit
from tooling.services.tools import add_tool
from tooling.words.trends import named

pytestmark = pytest.mark.django_db


@pytest.fixture
def morning():
    with time_machine.travel(NOW, tick=False):
        yield open_shop()


def read(tool, value, hours, **said):
    said = {"quantity": "gloss", "unit": "GU", "geometry": "60°", **said}
    return do("take_reading", tool, value=Decimal(value), at=ago(hours=hours), **said)


def pull(tool, hours, count=1):
    return do("log_pull", tool, at=ago(hours=hours), count=count, came_off="free")


def total(tool, at):
    (one,) = (found for found in standings([tool], at=at) if found.tool.pk == tool.pk)
    return one.own.total_pulls


def counts(one):
    return [[visit.pulls for visit in segment.visits] for segment in one.segments]


def gloss(**said):
    return set_limit(quantity="Gloss", unit="GU", limit=Decimal(70), worse="down", geometry="60°", **said)


def test_each_reading_stands_at_the_pulls_of_the_history_then(morning, django_assert_num_queries):
    tool = mold("DECK", morning, pulls=None)
    started = do("set_starting_state", tool, at=ago(hours=90), prepared="unknown", total_pulls=40)
    assert series(tool, NOW) == []
    last = None
    for hours, value in ((80, "90"), (60, "88"), (40, "86")):
        last = pull(tool, hours + 1, 3)
        read(tool, value, hours)
    do("correct", last, at=last.at, reason="five it was", kind="pull", changes={"count": 5, "came_off": "free"})
    read(tool, "85", 40)
    with django_assert_num_queries(5):
        (one,) = series(tool, NOW)
    assert counts(one) == [[43, 46, 51]]
    assert [total(tool, visit.at) for visit in one.visits] == [43, 46, 51]
    assert (one.last.mean, one.last.low, one.now) == (85.5, 85, 51)
    do("void", started, at=NOW, reason="not so")
    assert counts(series(tool, NOW)[0]) == [[3, 6, 11]]
    assert counts(series(tool, ago(hours=50))[0]) == [[3, 6]]


def test_an_insert_goes_by_the_pulls_of_its_molds(morning):
    tool, insert = mold("DECK", morning), mold("HATCH", morning, pulls=None, kind="insert")
    do("install", insert, at=ago(hours=19), mold=tool)
    pull(tool, 18, 2)
    read(insert, "80", 17)
    do("remove", insert, at=ago(hours=16))
    pull(tool, 15, 4)
    read(insert, "79", 14)
    (one,) = series(insert, NOW)
    assert counts(one) == [[2]]
    assert [total(insert, value.entry.at) for value in one.readings] == [2, 2]


def test_a_trim_mask_goes_by_parts_cut(morning):
    from trimfixtures.services.deeds import log_use

    mask = add_tool(code="RIM", name="Rim", kind="trim_mask")
    log_use(mask, count=12, at=ago(hours=5), by=None, recorded_by=None)
    read(mask, "80", 4)
    assert counts(series(mask, NOW)[0]) == [[12]]


def test_work_of_any_area_begins_anew_and_the_last_segment_alone_decides(morning):
    tool = mold("DECK", morning)
    gloss(kind="mold")
    for number in range(6):
        pull(tool, 200 - number * 10, 10)
        read(tool, str(90 - 2 * number), 199 - number * 10)
    (one,) = series(tool, NOW)
    # 90 at 10 pulls and 2 less every 10: 70 at 110.
    assert (one.crossing.verdict, round(one.crossing.at), one.now) == ("reaches", 110, 60)
    do("polish", tool, at=ago(hours=100), area="spot")
    (one,) = series(tool, NOW)
    assert (one.crossing.verdict, counts(one)) == ("no_readings", [[10, 20, 30, 40, 50, 60], []])
    read(tool, "69", 99)
    (one,) = series(tool, NOW)
    assert (one.crossing.verdict, one.current.begun.kind, one.spots_past) == ("past_limit", "polish", 1)


def test_what_may_be_compared(morning):
    tool = mold("DECK", morning)
    read(tool, "80", 9)
    read(tool, "81", 8, quantity="GLOSS", geometry=" 60°")
    read(tool, "82", 7, geometry="20°")
    read(tool, "0.5", 6, quantity="depth", unit="in", geometry="")
    read(tool, "12.8", 5, quantity="depth", unit="mm", geometry="")
    read(tool, "9", 4, quantity="vacuum drop", unit="mbar", geometry="", minutes=Decimal("5.0"))
    read(tool, "9", 3, quantity="vacuum drop", unit="mbar", geometry="", minutes=Decimal(10))
    found = {tuple(one.key): [value.value for value in one.readings] for one in series(tool, NOW)}
    assert found == {
        ("depth", "mm", ""): [12.7, 12.8],
        ("gloss", "GU", "20°"): [82],
        ("gloss", "GU", "60°"): [80, 81],
        ("vacuum drop", "mbar", "5 min"): [9],
        ("vacuum drop", "mbar", "10 min"): [9],
    }


def test_each_spot_of_a_dimension_goes_by_itself(morning):
    tool = mold("DECK", morning)
    for value, spot, hours in (("12", "beam", 9), ("40", "stem", 8), ("12.1", "Beam", 7)):
        read(tool, value, hours, quantity="dimension", unit="mm", geometry="", spot=spot)
    found = series(tool, NOW)
    assert [(named(one), [value.value for value in one.readings]) for one in found] == [
        ("Dimension at Beam", [12, 12.1]), ("Dimension at stem", [40]),
    ]  # fmt: skip


def test_a_limit_of_the_tool_goes_before_that_of_its_kind(morning):
    tool, other = mold("DECK", morning), mold("HULL", morning)
    gloss(kind="mold")
    gloss(tool=tool)
    set_limit(
        tool=other, quantity="depth", unit="in", limit=Decimal("0.1"), worse="up", geometry="", note="our fairing"
    )
    for one in (tool, other):
        read(one, "80", 9)
        read(one, "3", 8, quantity="depth", unit="mm", geometry="")
    by_key = {one.key.quantity: one for one in series(other, NOW)}
    assert by_key["gloss"].limit.row.tool is None
    assert (by_key["depth"].limit.value, by_key["depth"].crossing.verdict) == (pytest.approx(2.54), "past_limit")
    by_key = {one.key.quantity: one for one in series(tool, NOW + timedelta(1))}
    assert by_key["gloss"].limit.row.tool == tool
    assert by_key["depth"].limit is None


def test_what_is_past_its_limit_is_asked_of_the_newest_since_the_last_work(morning, django_assert_num_queries):
    """No question is asked of the database for each reading: a history of thousands would make laying up wait."""
    tool, other = mold("DECK", morning), mold("HULL", morning)
    gloss(kind="mold")
    for hours in (9, 5):
        read(other, "60", hours)
        read(tool, "60", hours)
    do("polish", other, at=ago(hours=5), area="whole")
    with django_assert_num_queries(3) as asked:
        (found,) = past_limits([tool, other], NOW)
    assert (found.key, found.entry.at) == (tool.pk, ago(hours=5))
    assert '"kind" IN' not in asked[2]["sql"]
    read(other, "60", 4)
    assert [one.entry.at for one in past_limits([other], NOW)] == [ago(hours=4)]
