"""Spans are half-open, one after the other."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.tooling.rows import NOON, make_tool, write
from tooling.models import Flag, Span

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)


def lay(tool, status, begin, end, rank=9):
    return Span.objects.create(tool=tool, rank=rank, status=status, from_at=begin, until_at=end)


def test_one_span_of_a_tool_holds_at_a_time():
    tool = make_tool()
    curing = lay(tool, "curing", NOON, NOON + HOUR)
    ready = lay(tool, "ready", NOON + HOUR, None)
    assert list(Span.objects.at(NOON - HOUR)) == []
    assert list(Span.objects.at(NOON)) == [curing]
    assert list(Span.objects.at(NOON + HOUR)) == [ready]
    assert list(Span.objects.at(NOON + 9000 * HOUR)) == [ready]


@pytest.mark.parametrize(("begin", "end"), [(0, 0), (1, 0), (0, 5), (3, None)])
def test_a_span_that_cannot_be(begin, end):
    tool = make_tool()
    lay(tool, "curing", NOON, NOON + HOUR)
    lay(tool, "ready", NOON + HOUR, None)
    with pytest.raises(IntegrityError), transaction.atomic():
        lay(tool, "x", NOON + begin * HOUR, None if end is None else NOON + end * HOUR)


def test_a_flag_is_raised_once():
    tool = make_tool()
    flag = {"entry": write(tool), "surface": tool, "flag": "used_overdue"}
    Flag.objects.create(**flag)
    with pytest.raises(IntegrityError), transaction.atomic():
        Flag.objects.create(**flag)
