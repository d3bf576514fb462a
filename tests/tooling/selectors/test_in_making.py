"""Tools in the making: their steps, what they wait for and what waits for them, in a number of queries that stays."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.views import works
from tests.tooling.views.conftest import morning as morning
from tooling.models import Kind, Part, PartRevision, Place, SetLine, Tool
from tooling.selectors.in_making import PartWaits, in_making, line_of_tool
from tooling.services.making_steps import add_starter
from tooling.services.tools import add_tool
from tooling.services.wanted import want

pytestmark = pytest.mark.django_db


@pytest.fixture
def plug(morning):
    for kind in (Kind.PLUG, Kind.MOLD):
        add_starter(kind)
    return add_tool(code="P-1", kind=Kind.PLUG, name="Plug", release_system=morning, in_making=True)


def begun(code, plug, **columns):
    return add_tool(code=code, kind=Kind.MOLD, name=code, made_from=plug, in_making=True, **columns)


def found(code):
    return {one.tool.code: one for one in in_making(works.NOW)}.get(code)


def waits(code):
    return [(one.tool.code, one.why) for one in found(code).waits_for]


def at(days):
    return works.ago(days=days)


def test_how_far_each_is_the_longest_at_its_step_first(plug):
    other = begun("M-1", None)
    works.do("make_step", plug, step="Sanded", at=at(3))
    works.do("make_step", plug, step="sanded", work="sanding", grit="P400", at=at(1))
    works.do("make_step", other, step="Polished", at=at(5))
    works.do("make_step", begun("M-2", None), step="Polished", at=at(4))
    works.do("accept", Tool.objects.get(code="M-2"), at=at(2))
    begun("M-0", None)
    assert [one.tool.code for one in in_making(works.NOW)] == ["M-0", "M-1", "P-1"]
    one = found("P-1")
    assert (one.step, one.since, one.next_step.name) == ("Sanded", at(3), "Surface measured")
    assert [step.name for step in found("M-1").done] == []
    assert [one.tool.code for one in in_making(works.NOW, [other.pk])] == ["M-1"]


def test_sealing_and_waxing_a_plug_are_its_steps_and_voided_they_are_not(plug):
    works.do("make_step", plug, step="Surface measured", at=at(3))
    works.do("log_sealer", plug, at=at(2))
    coat = works.do("log_coat", plug, at=at(1))
    assert (found("P-1").step, found("P-1").since) == ("Release coats on", at(1))
    assert found("P-1").line.is_through
    works.do("void", coat, reason="the other plug")
    assert (found("P-1").step, found("P-1").next_step.name) == ("Sealed", "Release coats on")


def test_a_mold_waits_for_its_plug_until_it_is_laid_up_on_it(plug):
    begun("M-1", plug)
    assert waits("M-1") == [("P-1", "making")]
    assert [one.code for one in found("P-1").tools_wait] == ["M-1"]
    works.do("accept", plug, at=at(4))
    assert waits("M-1") == []
    works.do("log_coat", plug, at=at(3))
    works.do("lay_up", plug, part="m-1", at=at(2), earliest_pull=works.NOW + timedelta(hours=9))
    one = found("M-1")
    assert (one.step, waits("M-1"), one.waits_for[0].until) == (
        "Laid up on the plug", [("P-1", "cures")], works.NOW + timedelta(hours=9)
    )  # fmt: skip
    works.do("log_pull", plug, part="M-1", came_off="free", at=at(1))
    assert (found("M-1").step, waits("M-1")) == ("Off the plug", [])


def test_why_the_plug_cannot_be_worked_on(plug):
    begun("M-1", plug)
    works.do("accept", plug, at=at(9))
    works.do("log_coat", plug, at=at(8))
    works.do("lay_up", plug, part="M-9", at=at(7))
    works.do("hold", plug, reason="chip", at=at(6))
    works.do("lend", plug, person="The yard", until=date(2026, 6, 1), at=at(5))
    assert waits("M-1") == [("P-1", "held"), ("P-1", "lent"), ("P-1", "in_use")]
    works.do("hand_back", plug, at=at(4))
    works.do("move", plug, place=Place.objects.create(code="A", name="A"), at=at(3))
    works.do("move", plug, place=None, at=at(2))
    works.do("retire", plug, reason="broken", at=at(1))
    assert waits("M-1") == [("P-1", "retired")]


def test_parts_wait_for_a_tool_of_their_newest_set_that_nothing_stands_in_for(plug, lead):
    tools = [begun("M-1", plug), works.mold("M-2", None, pulls=None)]
    for number, word in (("520", ""), ("440", "deck"), ("300", "")):
        newest = PartRevision.objects.create(part=Part.objects.create(number=number), revision="A")
        for tool in tools if word else tools[:1]:
            SetLine.objects.create(revision=newest, role="mold", tool=tool, alternative=word)
    PartRevision.objects.create(part=Part.objects.get(number="300"), revision="B")
    want(Part.objects.get(number="520"), by=lead, at=works.NOW)
    assert found("M-1").parts_wait == (PartWaits("520", True),)
    works.do("retire", tools[1], reason="worn")
    assert found("M-1").parts_wait == (PartWaits("520", True), PartWaits("440", False))


def test_as_many_queries_for_twenty_as_for_two(plug):
    def queries():
        with CaptureQueriesContext(connection) as asked:
            in_making(works.NOW)
        return len(asked)

    works.do("make_step", begun("M-0", plug), step="Curing", at=at(3))
    few = queries()
    for number in range(1, 10):
        works.do("make_step", begun(f"M-{number}", plug), step="Curing", at=at(3))
    assert queries() == few == 7


def test_how_a_tool_in_use_was_made(plug):
    works.do("make_step", plug, step="Roughed", at=at(3))
    works.do("accept", plug, at=at(2))
    works.do("log_coat", plug, at=at(1))
    line = line_of_tool(plug, making=False)
    assert (line.accepted.kind, [one.name for one in line.steps if one.entries]) == ("accepted", ["Roughed"])
    assert line_of_tool(works.mold("M-5", None), making=False) is None


def test_what_comes_from_no_plug_is_laid_up_on_none(plug):
    works.do("make_step", begun("M-1", None), step="Base frame", at=at(3))
    works.do("make_step", begun("M-2", plug), step="Base frame", at=at(2))
    assert [(found(code).line.next.name) for code in ("M-1", "M-2")] == ["Curing", "Laid up on the plug"]
    assert "Off the plug" not in {step.name for step in found("M-1").line.steps}
