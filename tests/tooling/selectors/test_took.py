"""What it took to make a tool: added up once, in one unit, up to when it was accepted."""

from datetime import timedelta
from decimal import Decimal

import pytest

from tests.tooling.rows import NOON, make_tool, write
from tooling.models import MillingPass
from tooling.selectors.took import alike, took

pytestmark = pytest.mark.django_db


def worked(tool, step="filling", count=None, **payload):
    return write(tool, "making", payload={"step": step, **payload}, count=count)


@pytest.fixture
def plug():
    return make_tool("P-1", "plug", in_making=True)


def test_hours_and_material_are_added_up_until_it_is_accepted(plug):
    worked(plug, work="filler", minutes="90", material="Body filler", value="2.5", unit="kg", count=2)
    worked(plug, work="filler", minutes="30.5", material="body  filler", value="500", unit="g", count=1)
    worked(plug, "sanding", work="sanding", minutes="240")
    write(plug, "accepted")
    worked(plug, "sanding", work="sanding", minutes="15")
    one = took([plug])[plug.pk]
    assert [(work.work, work.minutes, work.entries, work.count) for work in one.works] == [
        ("filler", Decimal("120.5"), 2, 3),
        ("sanding", Decimal(240), 1, 0),
    ]
    (filler,) = one.materials
    assert (filler.material, filler.amount, filler.unit) == ("body filler", Decimal(3), "kg")
    assert (one.minutes, one.later, len(one.entries)) == (Decimal("360.5"), Decimal(15), 3)
    assert (one.since, one.until) == (NOON + timedelta(hours=1), NOON + timedelta(hours=4))


def test_pounds_and_kilograms_of_one_material_are_one_sum(plug):
    worked(plug, work="laminate", material="resin", value="10", unit="lb")
    worked(plug, work="laminate", material="resin", value="0.4640763", unit="kg")
    (resin,) = took([plug])[plug.pk].materials
    assert (resin.amount, resin.unit) == (Decimal(5), "kg")  # a pound is 0.45359237 kg


def test_a_unit_nobody_can_turn_into_another_keeps_its_own_sum(plug):
    worked(plug, work="skin", material="cloth", value="3", unit="rolls")
    worked(plug, work="skin", material="cloth", value="12", unit="m")
    worked(plug, work="skin", material="cloth")
    assert [(one.amount, one.unit) for one in took([plug])[plug.pk].materials] == [(12, "m"), (3, "rolls")]


def test_milling_counts_once_where_passes_and_entries_say_it(plug):
    worked(plug, "roughing", work="machining", minutes="200")
    for order, minutes in ((1, 130), (2, 65), (3, None)):
        MillingPass.objects.create(tool=plug, order=order, kind="finishing", minutes_taken=minutes)
    one = took([plug])[plug.pk]
    assert (one.minutes, one.left_out, one.by_passes) == (Decimal(195), Decimal(200), True)
    assert (one.added, one.unsaid) == (0, 1)  # of which pass the one entry is nobody can say


def test_an_entry_is_counted_whose_pass_has_no_minutes(plug):
    worked(plug, "roughing", work="machining", minutes="120")
    worked(plug, work="filler", minutes="30")
    fine = worked(plug, "cut fine", work="machining", minutes="180")
    for order, minutes in ((1, 540), (2, None)):
        MillingPass.objects.create(tool=plug, order=order, kind="finishing", minutes_taken=minutes)
    one = took([plug])[plug.pk]
    assert (one.machining, one.minutes, one.added, one.left_out) == (720, 750, 180, 120)
    assert fine.pk not in one.not_added


def test_what_is_void_or_later_than_asked_does_not_count(plug):
    first = worked(plug, work="primer", minutes="20")
    gone = worked(plug, work="primer", minutes="40")
    write(plug, "void", voids=gone)
    worked(plug, work="primer", minutes="80")
    assert took([plug])[plug.pk].minutes == 100
    assert took([plug], until=first.at)[plug.pk].minutes == 20


def test_nonsense_from_elsewhere_counts_as_nothing(plug):
    worked(plug, work="filler", minutes="a day", material="putty", value="NaN", unit="kg")
    one = took([plug])[plug.pk]
    assert (one.minutes, one.materials[0].amount, one.materials[0].entries) == (0, 0, 0)


def test_many_tools_take_two_queries(plug, django_assert_num_queries):
    tools = [plug, *(make_tool(f"P-{n}", "plug") for n in range(2, 30))]
    for tool in tools:
        worked(tool, work="filler", minutes="10")
    with django_assert_num_queries(2):
        assert sum(one.minutes for one in took(tools).values()) == 290


def test_those_alike_begin_with_the_one_named_then_those_that_are_done(plug):
    done, going, named = (make_tool(f"P-{n}", "plug", in_making=True) for n in range(2, 5))
    for tool in (done, going, named):
        worked(tool, work="filler", minutes="10")
    write(done, "accepted")
    make_tool("M-1", "mold", in_making=True)
    assert [one.tool for one in alike("plug", named)] == [named, done, going]
