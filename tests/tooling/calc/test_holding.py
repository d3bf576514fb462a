"""What held a surface and what ended it: worked out by hand from the rules of release."""

from datetime import UTC, datetime, timedelta

from tooling.calc.entry import Entry
from tooling.calc.holding import holds_of
from tooling.calc.order import effective
from tooling.calc.recipe import RecipeBook

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def told(*kinds):
    """The holds of a mold to which this happened, an hour apart: (number, reasons, number of what ended it)."""
    log = []
    for number, (kind, said) in enumerate(kinds, 1):
        at = START + timedelta(hours=number)
        log.append(Entry(id=number, tool=1, kind=kind, at=at, recorded_at=at, by=said.pop("by", None), **said))
    found = holds_of(effective(log), 1, None, RecipeBook([]), UTC)
    return [(one.entry.id, one.reasons, one.ended.id if one.ended else None) for one in found]


def hold():
    return "hold", {}


def look(passed):
    return "inspected", {"passed": passed}


def test_each_hold_is_told_also_while_it_is_held_already_and_a_pass_ends_all():
    told_of = told(hold(), hold(), look(False), look(True), hold())
    assert told_of == [(1, ("hold",), 4), (2, ("hold",), 4), (3, ("inspection_failed",), 4), (5, ("hold",), None)]


def test_a_pull_holds_for_each_of_its_reasons_and_one_that_came_free_for_none():
    assert told(("pull", {"came_off": "lost", "tool_damaged": True}), ("pull", {"came_off": "free"})) == [
        (1, ("came_off", "tool_damaged"), None)
    ]


def test_brought_back_into_use_is_a_hold_in_place_of_those_before():
    log = (hold(), ("retired", {}), look(True), ("reinstated", {}), look(True))
    assert told(*log) == [(1, ("hold",), 4), (4, ("reinstated",), 5)]


def test_what_lies_before_a_starting_state_holds_nothing():
    assert told(hold(), ("starting_state", {"prepared": "no"}), hold()) == [(3, ("hold",), None)]
