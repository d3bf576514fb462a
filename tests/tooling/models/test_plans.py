"""What every deed asks of the entries is answered by an index, also once SQLite has gathered statistics."""

import re

import pytest
from django.db import connection

from tests.tooling.rows import make_tool, write
from tooling.models import Entry, triggers
from tooling.selectors.serials.looked_up import named, near
from tooling.services import serials

pytestmark = [pytest.mark.django_db, pytest.mark.sqlite]


@pytest.fixture
def entries():
    mold, insert = make_tool("M-1"), make_tool("I-1", kind="insert")
    write(insert, "installed", mold=mold)
    for _ in range(300):
        write(mold)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return mold


def plan(sql):
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN QUERY PLAN {sql}")
        return [row[3] for row in cursor.fetchall()]


def test_the_inserts_of_a_mold_are_found_by_the_mold(entries):
    found = Entry.objects.filter(mold=entries, kind="installed").order_by()
    assert "entry_mold_at" in found.explain()


@pytest.mark.parametrize("table", triggers.PROTECTED)
def test_the_trigger_against_replacing_reads_no_whole_table(entries, table):
    asked = re.search(r" WHEN (.*) BEGIN ", triggers.expected("sqlite")[f"{table}_no_replace"]).group(1)
    steps = plan(f"SELECT {re.sub(r'NEW[.][a-z_]+', '5', asked)}")
    assert [step for step in steps if step.startswith("SEARCH")]
    assert not [step for step in steps if step.startswith("SCAN") and step != "SCAN CONSTANT ROW"]


@pytest.mark.parametrize("look", [named, lambda number: named(number, part="P-1"), near])
def test_a_serial_number_is_found_by_its_index_whatever_else_there_is(entries, look, django_assert_max_num_queries):
    """No history and no tool is gone through for it."""
    serials.keep([write(entries, "pull", serial=f"{number:04}", part="P-1") for number in range(300)])
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    with django_assert_max_num_queries(3) as asked:
        assert look("0173" if look is not near else "173")
    steps = [step for one in asked.captured_queries for step in plan(one["sql"])]
    assert [step for step in steps if "serial_key_part" in step or "serial_bare" in step]
    assert not [step for step in steps if step.startswith("SCAN")]
