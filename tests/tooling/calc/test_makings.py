"""Which lay-up ends with which pull, worked out by hand for each small history."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.entry import Entry
from tooling.calc.makings import makings

BEGIN = datetime(2026, 5, 4, 8, tzinfo=UTC)


def placed(kinds):
    """Entries an hour apart, numbered from 1."""
    for number, kind in enumerate(kinds.split(), 1):
        at = BEGIN + timedelta(hours=number)
        yield at, number, Entry(number, "M", kind, at)


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [
        ("lay_up lay_up_done pull", [(1, 2, 3, False)]),
        ("lay_up pull pull", [(1, None, 2, False), (None, None, 3, False)]),
        ("lay_up lay_up pull", [(1, None, None, True), (2, None, 3, False)]),
        ("lay_up coat abandoned lay_up", [(1, None, 3, False), (4, None, None, False)]),
        ("abandoned lay_up_done used", [(None, None, 3, False)]),
        ("coat hold", []),
    ],
)
def test_a_pull_takes_what_was_laid_up_last(kinds, expected):
    found = makings(placed(kinds))
    numbers = [tuple(one and one[1] for one in (made.lay_up, made.done, made.end)) for made in found]
    assert [(*these, made.over) for these, made in zip(numbers, found, strict=True)] == expected
