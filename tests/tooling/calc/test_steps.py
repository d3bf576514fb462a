"""Steps of one surface that the worked cases do not take. Source: the house's own rules of release (judging a
use; reinstated; the order of statuses)."""

from datetime import UTC, datetime, timedelta

from tests.tooling.calc.advice import deed
from tests.tooling.calc.replay import Board, Deed, History, Shop
from tooling.calc.recipe import Recipe
from tooling.calc.status import Need, Status

NINE = datetime(2024, 5, 6, 9, tzinfo=UTC)


def after(recipe: Recipe, *done: Deed) -> tuple[Board, Status]:
    """The board right after deeds on one mold."""
    board = History(Shop(UTC, (recipe,), ("HULL-1",), (), {"HULL-1": recipe.code}), list(done)).board()
    return board, board.status("HULL-1", done[-1]["at"])


def hull(hour: int, kind: str, **fields: object) -> Deed:
    return deed("HULL-1", kind, NINE + timedelta(hours=hour), **fields)


def test_a_touch_up_that_nothing_asked_for_has_to_be_finished_or_is_lost():
    recipe = Recipe("KEEL", coats_new=1, break_in=(), touch_up_coats=2)
    begun = [hull(0, "coat", count=1), hull(1, "pull", count=1), hull(2, "coat", count=1)]
    _, status = after(recipe, *begun)
    assert (status.status, status.why, status.need) == ("needs_touch_up", ("unfinished",), Need(0, 1))
    board, status = after(recipe, *begun, hull(3, "pull", count=1))
    assert board.flags == {(4, "unfinished_touch_up_lost", "HULL-1")}
    assert (status.status, status.since_coat, status.touch_ups) == ("ready", 2, 0)
    _, status = after(recipe, *begun, hull(3, "coat", count=1))
    assert (status.status, status.since_coat, status.touch_ups) == ("ready", 0, 1)


def test_a_use_takes_the_film_with_it():
    recipe = Recipe("KEEL", coats_new=1, break_in=(), film_every_pull=True)
    made = [hull(0, "coat", count=1), hull(1, "film")]
    assert after(recipe, *made)[1].status == "ready"
    board, status = after(recipe, *made, hull(2, "pull", count=2))
    assert status.status == "needs_film"
    assert board.flags == {(3, "used_without_film", "HULL-1")}


def test_a_mold_that_comes_back_has_nothing_in_it():
    made = [hull(0, "coat", count=5), hull(1, "lay_up"), hull(2, "retired"), hull(3, "reinstated")]
    _, status = after(Recipe("KEEL"), *made)
    assert (status.status, status.why, status.in_mold) == ("held", ("reinstated",), None)
    _, status = after(Recipe("KEEL"), *made, hull(4, "inspected", passed=True))
    assert (status.status, status.need) == ("not_prepared", Need(0, 3))
