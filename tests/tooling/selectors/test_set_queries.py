"""A part's tool set is read in a few queries, whatever stands against its tools and however long the histories are."""

from datetime import timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, PartRevision, SetLine, Tool
from tooling.selectors.tool_set import tool_set
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
# The lines, the tools, the recipes, the shop, what holds a tool, what was told and repaired, the temperature.
MOST = 7


@pytest.fixture
def twelve(shop):
    """Two halves, five inserts in them, five trim masks; the part is bagged and hot, the recipe wants a warm shop."""
    PartRevision.objects.update(process="Vacuum infusion", peak_c=75)
    shop.wax.versions.update(low_c=18, high_c=28)
    half = add_tool(code="DECK-2C", name="Half", kind=Kind.MOLD, release_system=shop.wax)
    inserts = [add_tool(code=f"I-{n}", name="Rim", kind=Kind.INSERT, release_system=shop.wax) for n in range(4)]
    masks = [add_tool(code=f"T-{n}", name="Mask", kind=Kind.TRIM_MASK) for n in range(4)]
    for insert in inserts:
        happened.install(insert, mold=half)
    Tool.objects.filter(kind=Kind.MOLD).update(matched_set="Deck")
    Tool.objects.update(inspect_every_pulls=2, inspect_every_days=30)
    revision = PartRevision.objects.select_related("part").get()
    tools = [shop.mold, half, shop.insert, *inserts, shop.mask, *masks]
    return revision, [SetLine.objects.create(revision=revision, role=one.kind, tool=one).tool for one in tools]


def work(tools):
    """All that a family could want to read more for."""
    mold, half, insert, *others, mask = tools
    for tool in (mold, half):
        happened.log_pull(tool, came_off="free")
        happened.repair(tool, area="spot", stands=60)
        happened.tell_lead(tool, note="A scratch")
        happened.take_reading(tool, quantity="vacuum drop", value=9, unit="mbar")
    happened.remove(insert)
    happened.install(insert, mold=mold)
    happened.hold(insert, reason="cracked")
    happened.lend(mask, person="The club")
    for tool in others:
        happened.move(tool, place=None)


def read(revision, **when):
    return tool_set(revision, now() + timedelta(seconds=1, **when))


def test_twelve_tools_with_all_that_stands_against_them(twelve, django_assert_max_num_queries):
    revision, tools = twelve
    with django_assert_max_num_queries(MOST) as idle:
        read(revision)
    work(tools)
    with django_assert_max_num_queries(MOST) as once:
        found = read(revision)
    codes = {one.code for line in found.lines for one in (*line.reasons, *line.notes)}
    assert codes >= {"held", "lent", "place_unknown", "told_to_lead", "vacuum_drop", "too_hot"}
    for _ in range(3):
        work(tools)
    with django_assert_max_num_queries(len(once)):
        read(revision)
    assert len(idle) <= len(once)


def test_a_moment_of_the_past_costs_a_fixed_number_too(twelve, django_assert_max_num_queries):
    revision, tools = twelve
    work(tools)
    with django_assert_max_num_queries(MOST + 5) as once:
        read(revision, minutes=-1)
    for _ in range(3):
        work(tools)
    with django_assert_max_num_queries(len(once)):
        read(revision, minutes=-1)
