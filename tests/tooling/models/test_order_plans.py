"""The list by last use and by pulls left is read along an index: its last page as its first, on both databases."""

from datetime import timedelta

import pytest
from django.db import connection

from tests.fixtures.once import once
from tests.tooling.rows import NOON
from tooling.models import Span, Summary, Tool
from tooling.selectors.paging import ORDERS, page

pytestmark = pytest.mark.django_db
AT, SHOWN = NOON + timedelta(days=1), 20


@once
def told_tools():
    """Tools of which every third was never used; of each what holds now and what comes after."""
    tools = Tool.objects.bulk_create(Tool(code=f"T-{n:04}", kind="mold", name="Tool") for n in range(3000))
    Summary.objects.bulk_create(
        Summary(tool=tool, last_used_at=NOON - timedelta(hours=n % 500) if n % 3 else None)
        for n, tool in enumerate(tools)
    )
    Span.objects.bulk_create(
        Span(tool=tool, rank=1, status="ready", from_at=start, until_at=end, pulls_left=(n + shift) % 16)
        for n, tool in enumerate(tools)
        for shift, start, end in ((0, NOON, NOON + timedelta(days=2)), (3, NOON + timedelta(days=2), None))
    )


@pytest.fixture
def many():
    told_tools()
    connection.check_constraints()
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def deep(order):
    """The mark of a page far behind."""
    mark = ""
    for _turn in range(3):
        mark = page(Tool.objects.all(), order, AT, 900, after=mark).after
    return mark


@pytest.mark.parametrize(("order", "index"), [("used", "summary_used"), ("left", "span_left")])
@pytest.mark.parametrize("back", [False, True])
def test_first_and_late_pages_are_read_along_the_index(many, order, index, back):
    by, (said, _, beside) = ORDERS[order], deep(order).rpartition("~")
    first = by.of(Tool.objects.all(), AT, back)
    late = first.filter(by.beyond(by.read(said), by.read_beside(beside), back))
    for rows in (first, late):
        plan = rows.values_list("pk", "key", "beside")[:SHOWN].explain()
        assert index in plan
        assert "TEMP B-TREE" not in plan
        assert "Sort" not in plan


@pytest.mark.parametrize("order", ["used", "left"])
def test_all_are_met_once_from_page_to_page_and_back(many, order):
    marks, met = [""], []
    while True:
        one = page(Tool.objects.all(), order, AT, 700, after=marks[-1])
        met += one.tools
        if not one.after:
            break
        marks.append(one.after)
    keys = [
        key for _pk, key, _beside in ORDERS[order].of(Tool.objects.all(), AT, False).values_list("pk", "key", "beside")
    ]
    assert len(met) == len(set(met)) == 3000
    assert keys == sorted(keys, reverse=True)
    assert page(Tool.objects.all(), order, AT, 700, before=one.before).tools == met[2100:2800][-700:]
