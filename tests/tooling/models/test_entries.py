"""The rules of one entry, as the database keeps them."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from tests.tooling.rows import make_tool, write
from tooling.calc.entry import Entry as CalcEntry
from tooling.models import Entry

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("count", [None, 1, 500])
def test_a_count_within_its_range(count):
    assert write(make_tool(), count=count).count == count


@pytest.mark.parametrize(
    "wrong", [{"count": 0}, {"count": 501}, {"number": 0}, {"kind": ""}, {"area": "half"}, {"id": 0}]
)
def test_a_value_out_of_range_is_refused(wrong):
    tool = make_tool()
    with pytest.raises(IntegrityError), transaction.atomic():
        write(tool, **wrong)
    assert not Entry.objects.exists()


def test_a_kind_of_a_later_release_is_kept():
    assert write(make_tool(), "weighed").kind == "weighed"


def test_a_number_is_given_once_a_tool():
    tool = make_tool()
    write(tool)
    write(make_tool("K-2"))
    with pytest.raises(IntegrityError), transaction.atomic():
        write(tool, number=1)


def test_an_entry_is_voided_once_and_replaced_once():
    tool = make_tool()
    first = write(tool)
    write(tool, "void", voids=first)
    with pytest.raises(IntegrityError), transaction.atomic():
        write(tool, "void", voids=first)
    write(tool, replaces=first)
    with pytest.raises(IntegrityError), transaction.atomic():
        write(tool, replaces=first)
    other = write(tool)
    with pytest.raises(IntegrityError), transaction.atomic():
        write(tool, replaces=other, voids=other)


@pytest.mark.parametrize("payload", [{"value": 0.5}, {"readings": [1, {"value": 0.5}]}])
def test_a_float_does_not_go_into_the_payload(payload):
    with pytest.raises(ValidationError):
        write(make_tool(), payload=payload)


def test_what_the_rules_read():
    tool, mold = make_tool("I-1", "insert"), make_tool("M-1")
    first = write(tool, "starting_state", payload={"prepared": "yes", "pulls_since_coat": 2, "lot": "A7"})
    second = write(
        tool,
        "installed",
        mold=mold,
        replaces=first,
        film=False,
        payload={"tool_damaged": True, "surface": mold.pk, "passed": False, "cause": "release"},
    )
    read = Entry.objects.get(pk=first.pk).as_calc()
    assert isinstance(read, CalcEntry)
    assert (read.id, read.tool, read.kind, read.prepared, read.pulls_since_coat) == (
        first.pk, tool.pk, "starting_state", "yes", 2,
    )  # fmt: skip
    assert (read.film, read.passed, read.surface, read.tool_damaged) == (None, None, None, False)
    read = Entry.objects.get(pk=second.pk).as_calc()
    assert (read.mold, read.replaces, read.film, read.passed) == (mold.pk, first.pk, False, False)
    assert (read.surface, read.tool_damaged, read.cause) == (mold.pk, True, "release")
