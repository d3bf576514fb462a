"""Hard pulls by lot, counted by hand."""

from datetime import UTC, datetime, timedelta
from itertools import count

from tooling.calc.entry import Entry
from tooling.calc.lots import by_lot

NOON = datetime(2026, 5, 12, 12, tzinfo=UTC)


def told(*story):
    """(kind, lot or how it came off) on one mold, hour by hour; the counts by lot."""
    number, entries, lots = count(1), [], {}
    for kind, said, *more in story:
        key = next(number)
        entry = Entry(key, more[0] if more else "M", kind, NOON + timedelta(hours=key), NOON)
        entry.count = 1
        if kind == "pull":
            entry.came_off, _, entry.cause = said.partition(" ")
        lots[key] = said if kind == "coat" else ""
        entries.append(entry)
    return [(one.lot, one.coats, one.hard, one.cycles) for one in by_lot(entries, lots)]


def test_a_cycle_is_the_coats_and_the_pulls_until_the_next():
    story = [("coat", "13"), ("coat", "13"), ("pull", "free"), ("pull", "tight"), ("coat", "14"), ("pull", "free")]
    assert told(*story) == [("14", 1, 0, 1), ("13", 2, 1, 1)]


def test_what_was_not_pulled_or_was_stripped_before_is_no_cycle():
    assert told(("coat", "13"), ("strip", ""), ("pull", "stuck"), ("coat", "13")) == [("13", 2, 0, 0)]


def test_a_cycle_of_two_lots_counts_for_both_and_one_hard_pull_once():
    assert told(("coat", "13"), ("coat", "14"), ("pull", "tight"), ("pull", "lost")) == [
        ("14", 1, 1, 1),
        ("13", 1, 1, 1),
    ]


def test_an_undercut_says_nothing_of_the_lot_and_tools_stay_apart():
    story = [("coat", "13", "A"), ("coat", "13", "B"), ("pull", "tight undercut", "A"), ("pull", "tight unknown", "B")]
    assert told(*story) == [("13", 2, 1, 2)]


def test_coats_without_a_lot_are_left_out():
    assert told(("coat", ""), ("pull", "tight")) == []
