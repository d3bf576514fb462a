"""In which group of the morning a tool stands."""

import pytest

from tooling.calc.groups import GROUPS, group_of
from tooling.calc.status import ORDER


@pytest.mark.parametrize(
    ("status", "kind", "making", "inside", "group"),
    [
        ("part_in_mold", "mold", False, False, "in_molds"),
        ("part_in_mold", "plug", False, False, "in_molds"),
        ("part_in_mold", "insert", False, True, ""),
        ("last_pull", "mold", False, False, "ready"),
        ("ready", "insert", False, False, ""),
        ("curing", "mold", False, False, "soon"),
        ("needs_strip", "insert", False, False, "wax"),
        ("needs_strip", "insert", False, True, ""),
        ("not_prepared", "trim_mask", False, False, ""),
        ("held", "trim_mask", False, False, "held"),
        ("held", "insert", False, True, ""),
        ("held", "mold", True, False, ""),
        ("retired", "mold", False, False, ""),
    ],
)
def test_a_tool_stands_where_it_is_dealt_with(status, kind, making, inside, group):
    assert group_of(status, kind, making, inside) == group


def test_only_what_is_retired_is_in_no_group():
    assert set(ORDER) - {state for states in GROUPS.values() for state in states} == {"retired"}
