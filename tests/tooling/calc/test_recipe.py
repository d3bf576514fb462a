"""Which row of a recipe holds at an instant. Source: the house's own rules of release."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from tooling.calc.recipe import Recipe, RecipeBook

INSTANT = timedelta(microseconds=1)
MAY = datetime(2024, 5, 1, 12, tzinfo=UTC)
JUNE = datetime(2024, 6, 1, 12, tzinfo=UTC)
FIRST, SECOND, THIRD = Recipe("KEEL"), Recipe("KEEL", MAY, pulls_between=5), Recipe("KEEL", JUNE, pulls_between=6)
LONE = Recipe("SKEG", MAY)
BOOK = RecipeBook([THIRD, LONE, FIRST, SECOND])


@pytest.mark.parametrize(
    ("at", "row"),
    [
        (datetime.min.replace(tzinfo=UTC), FIRST),
        (MAY - INSTANT, FIRST),
        (MAY, SECOND),
        (MAY + INSTANT, SECOND),
        (JUNE - INSTANT, SECOND),
        (JUNE, THIRD),
        (datetime.max.replace(tzinfo=UTC), THIRD),
    ],
)
def test_a_row_holds_from_its_own_instant_until_the_next(at, row):
    assert BOOK.at("KEEL", at) is row


def test_the_instant_counts_and_not_how_its_zone_writes_it():
    east = timezone(timedelta(hours=9))
    assert BOOK.at("KEEL", MAY.astimezone(east)) is SECOND
    assert BOOK.at("KEEL", (MAY - INSTANT).astimezone(east)) is FIRST
    assert RecipeBook([FIRST, Recipe("KEEL", MAY.astimezone(east))]).at("KEEL", MAY - INSTANT) is FIRST


def test_before_a_lone_row_begins_none_holds():
    assert BOOK.at("SKEG", MAY - INSTANT) is None
    assert BOOK.at("SKEG", MAY) is LONE
    rows = RecipeBook([SECOND, THIRD])
    assert rows.at("KEEL", MAY - INSTANT) is None
    assert rows.at("KEEL", MAY) is SECOND


def test_no_code_and_a_strange_code_have_no_row():
    assert BOOK.at(None, MAY) is None
    assert BOOK.at("THWART", MAY) is None


def test_changes_are_the_later_rows_in_order():
    assert BOOK.changes("KEEL") == [MAY, JUNE]
    assert BOOK.changes("SKEG") == [MAY]
    assert BOOK.changes("THWART") == BOOK.changes(None) == []
    assert BOOK.codes() == ["KEEL", "SKEG"]
