"""No page reads a whole table once SQLite has gathered statistics: neither Find, nor the board, nor a tool's page."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from bench.synth.make import END, make
from bench.synth.size import Size
from tests.fixtures.once import once
from tooling.forms.tools import ToolFilter
from tooling.models import Place, Summary, Tool
from tooling.selectors import places
from tooling.selectors.board import board
from tooling.selectors.tool import found, page
from tooling.selectors.tools import look

pytestmark = [pytest.mark.django_db, pytest.mark.sqlite]
# What grows with the shop. The few rows of the others may be read one by one.
GROWN = ("tooling_entry", "tooling_summary", "tooling_span", "tooling_tool", "tooling_flag")
# Made for what is asked: an index in the order that is wanted, or of nothing else than what is wanted.
FIT = ("summary_away", "summary_making", "sqlite_autoindex_tooling_tool_1", "tool_name_code", "tool_owner")


@once
def told_shop():
    make(Size(tools=60, entries=3_000))


@pytest.fixture
def steps():
    """The steps of the plans of all that some work asks, in a shop with statistics."""
    told_shop()
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")

    def of(work):
        with CaptureQueriesContext(
            connection,
        ) as heard:
            work()
        return [step for query in heard for step in plan(query["sql"])]

    return of


def plan(sql):
    if not sql.startswith("SELECT") or _first_few(sql):
        return []
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN QUERY PLAN {sql}")
        return [row[3] for row in cursor.fetchall()]


def _first_few(sql):
    """Whether it asks for so many rows of a table, whichever: it ends after those."""
    return "LIMIT" in sql and not re.search("WHERE|ORDER BY", sql)


def whole_tables(steps):
    """The steps that read a table that grows from end to end, or first make an index of one."""
    read = [step for step in steps if step.startswith("SCAN") and step.split()[1].startswith(GROWN)]
    return [step for step in read if not step.endswith(FIT)] + [step for step in steps if "AUTOMATIC" in step]


@pytest.mark.parametrize("kind", ["mold", "insert", "plug", "trim_mask"])
def test_the_page_of_a_tool_asks_for_its_own_rows(steps, kind):
    summary = Summary.objects.filter(tool__kind=kind).order_by("-count").first()
    asked = steps(lambda: page(found(summary.tool.code), END))
    assert [step for step in asked if "entry_tool_at" in step]
    assert whole_tables(asked) == []


@pytest.mark.parametrize("order", ["code", "name"])
def test_the_first_page_of_find_is_read_along_an_index(steps, order):
    asked = steps(lambda: look(ToolFilter({}, END).qs, "", END, order=order, size=10))
    assert [step for step in asked if step.endswith(FIT)]
    assert whole_tables(asked) == []


@pytest.mark.parametrize("asked", [{"owner": "tidewater"}, {"part": "P-00010"}, {"part": "0001"}])
def test_what_is_written_into_a_filter_is_found_by_an_index(steps, asked):
    Tool.objects.filter(code__endswith="1").update(owner="Tidewater boats")
    found = steps(lambda: list(ToolFilter(asked, END).qs[:10]))
    assert [step for step in found if "tool_owner" in step or "entry_part_tool" in step]
    assert whole_tables(found) == []


def test_a_group_of_the_board_is_read_in_its_order_out_of_its_index(steps):
    asked = steps(lambda: board(END))
    assert len([step for step in asked if "COVERING INDEX span_group" in step]) == 5
    assert whole_tables(asked) == []


def test_the_page_of_a_place_reads_what_lies_there_and_below(steps):
    place, shelf = Place.objects.all()[:2]
    Place.objects.filter(pk=shelf.pk).update(parent=place)

    def page_of_place():
        shown = places.page(place.code)
        return list(places.lying_at(shown.shelf.place)), list(places.at_home_but_elsewhere(place))

    asked = steps(page_of_place)
    assert [step for step in asked if "summary_lies" in step]
    assert whole_tables(asked) == []
