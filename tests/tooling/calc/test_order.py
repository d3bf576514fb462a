"""Which entries stand and in which order: chains of corrections, voids, `as_of`, `known_at`.

Source: the house's own rules of release.
"""

from datetime import UTC, datetime, timedelta

from tooling.calc.entry import Entry
from tooling.calc.order import effective

INSTANT = timedelta(microseconds=1)
NINE = datetime(2024, 5, 6, 9, tzinfo=UTC)


def entry(number: int, hour: float, kind: str = "coat", recorded: float | None = None, **more: object) -> Entry:
    """An entry so many hours after nine; recorded at once unless said otherwise."""
    recorded_at = NINE + timedelta(hours=hour if recorded is None else recorded)
    return Entry(number, "HULL-1", kind, NINE + timedelta(hours=hour), recorded_at, **more)


def numbers(*entries: Entry, as_of: float | None = None, known_at: float | None = None) -> list[int]:
    moments = [None if hours is None else NINE + timedelta(hours=hours) for hours in (as_of, known_at)]
    return [one.id for _, _, one in effective(entries, *moments)]


def test_late_entries_take_their_place():
    assert numbers(entry(1, 2), entry(2, 0), entry(3, 1)) == [2, 3, 1]


def test_entries_of_one_instant_stand_as_they_were_recorded():
    assert numbers(entry(3, 1), entry(5, 1), entry(9, 0), entry(10, 1)) == [9, 3, 5, 10]


def test_a_correction_stands_where_its_chain_began_and_keeps_no_number_of_its_own():
    log = [entry(1, 0, "pull"), entry(2, 0, "coat"), entry(3, 0, "pull", replaces=1), entry(4, 0, "pull", replaces=3)]
    assert numbers(*log) == [4, 2]
    assert [root for _, root, _ in effective(log)] == [1, 2]


def test_a_correction_with_another_time_moves():
    assert numbers(entry(1, 0), entry(2, 1), entry(3, 2, replaces=1)) == [2, 3]
    assert numbers(entry(1, 2), entry(2, 1), entry(3, 0, replaces=1), entry(4, 1, replaces=3)) == [4, 2]


def test_voiding_a_correction_does_not_bring_the_original_back():
    log = [entry(1, 0), entry(2, 0, replaces=1), entry(3, 1, "void", voids=2)]
    assert numbers(*log) == []
    assert numbers(*log[:2]) == [2]


def test_a_void_acts_whatever_its_own_time():
    assert numbers(entry(1, 5), entry(2, 0, "void", voids=1), as_of=5) == []
    assert numbers(entry(1, 0), entry(2, 9, "void", voids=1), as_of=0) == []
    assert numbers(entry(1, 0), entry(2, 9, replaces=1), as_of=5) == []


def test_as_of_keeps_its_own_instant():
    log = [entry(1, 0), entry(2, 1)]
    assert numbers(*log, as_of=1) == [1, 2]
    assert [one.id for _, _, one in effective(log, NINE + timedelta(hours=1) - INSTANT)] == [1]


def test_known_at_forgets_what_was_recorded_later_with_its_voids_and_corrections():
    log = [
        entry(1, 0),
        entry(2, 1, recorded=3, replaces=1),
        entry(3, 0, recorded=5),
        entry(4, 6, "void", recorded=6, voids=2),
    ]
    assert [numbers(*log, known_at=hours) for hours in (-1, 0, 3, 5, 6)] == [[], [1], [2], [3, 2], [3]]
    assert [one.id for _, _, one in effective(log, known_at=NINE + timedelta(hours=3) - INSTANT)] == [1]


def test_known_at_and_as_of_go_together():
    log = [entry(1, 0), entry(2, 1, recorded=8), entry(3, 2)]
    assert numbers(*log, as_of=1, known_at=4) == [1]
    assert numbers(*log, as_of=2, known_at=4) == [1, 3]
    assert numbers(*log, as_of=1, known_at=8) == [1, 2]


def test_what_nobody_knows_when_it_was_recorded_is_not_known():
    log = [Entry(1, "HULL-1", "coat", NINE)]
    assert numbers(*log) == [1]
    assert numbers(*log, known_at=100) == []
