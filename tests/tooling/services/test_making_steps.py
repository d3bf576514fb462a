"""The steps of a kind, kept as one list; and what an entry of the making cannot say."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.errors import Refused
from tests.tooling.rows import make_tool
from tooling.models import Kind, Summary
from tooling.services import deeds
from tooling.services.making_steps import STARTERS, Step, add_starter, set_steps, steps_of

pytestmark = pytest.mark.django_db
TWO = [Step("Roughed"), Step("Sealed", "sealer", "two coats")]


def test_a_list_is_kept_whole_in_its_order():
    set_steps("plug", TWO, read=[])
    set_steps("plug", [TWO[1], Step("  Cut   fine "), Step("Roughed once")], read=TWO)
    assert steps_of("plug") == [TWO[1], Step("Cut fine"), Step("Roughed once")]
    assert steps_of("mold") == []
    assert set_steps("plug", [], read=steps_of("plug")) == []


def test_what_was_changed_meanwhile_is_not_overwritten_and_the_same_again_is_harmless():
    set_steps("plug", TWO, read=[])
    assert set_steps("plug", TWO, read=[]) == TWO
    with pytest.raises(Refused, match="meanwhile"):
        set_steps("plug", [Step("Sanded")], read=[])
    assert steps_of("plug") == TWO


def test_two_who_begin_an_empty_list_wait_for_each_other():
    """There is no step yet that could be locked: the shop is, before the steps are read."""
    with CaptureQueriesContext(connection) as asked:
        add_starter("plug")
    _empty, lock, read = [one["sql"] for one in asked if one["sql"].startswith("SELECT")]
    assert ("tooling_shop" in lock, "tooling_makingstep" in read) == (True, True)
    assert ("FOR NO KEY UPDATE" in lock) == (connection.vendor == "postgresql")


@pytest.mark.parametrize(
    ("kind", "steps", "field"),
    [
        ("plug", [Step("Roughed"), Step("  ")], "name.1"),
        ("plug", [Step("Roughed"), Step("roughed")], "name.1"),
        ("plug", [Step("x" * 81)], "name.0"),
        ("plug", [Step("x", note="x" * 201)], "name.0"),
        ("trim_mask", [Step("Sealed", "sealer")], "by_entry.0"),
        ("plug", [Step(f"Step {number}") for number in range(41)], ""),
    ],
)
def test_what_cannot_stand_in_a_list_is_named_where_it_is(kind, steps, field):
    with pytest.raises(Refused) as refused:
        set_steps(kind, steps)
    assert refused.value.field == field
    assert steps_of(kind) == []


def test_every_kind_has_a_starter_list_and_a_list_that_is_there_is_kept():
    assert set(STARTERS) == set(Kind.values)
    for kind in STARTERS:
        assert [one.name for one in add_starter(kind)] == [str(one.name) for one in STARTERS[kind]]
        with pytest.raises(Refused, match="already"):
            add_starter(kind)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"work": "magic"}, "work"),
        ({"value": Decimal(0), "material": "filler", "unit": "kg"}, "value"),
        ({"value": Decimal(2), "unit": "kg"}, "material"),
        ({"value": Decimal(2), "material": "filler"}, "unit"),
        ({"minutes": Decimal(-1)}, "minutes"),
        ({"grit": "P320", "work": "skin"}, "grit"),
    ],
)
def test_what_work_at_a_step_cannot_say(said, field):
    tool = make_tool("P-1", "plug", in_making=True)
    Summary.objects.create(tool=tool, making=True)
    with pytest.raises(Refused) as refused:
        deeds.make_step(tool, step="Skinned", by=None, recorded_by=None, **said)
    assert refused.value.field == field
    assert not tool.entries.exists()
