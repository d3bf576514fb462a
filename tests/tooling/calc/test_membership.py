"""Which inserts a mold's deeds reach. Source: the house's own rules of release (half-open stays; a pull also
reaches what was in at its lay-ups; no insert in two molds at once)."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.entry import Entry
from tooling.calc.membership import Stay, TwoMolds, reached, stays, uses, with_uses
from tooling.calc.order import Placed, effective

INSTANT = timedelta(microseconds=1)
NINE = datetime(2024, 5, 6, 9, tzinfo=UTC)


def hours(number: float) -> datetime:
    return NINE + timedelta(hours=number)


def bow(number: int, hour: float, kind: str, mold: str | None = None, **more: object) -> Entry:
    return Entry(number, "BOW-1", kind, hours(hour), mold=mold, **more)


def hull(number: int, hour: float, kind: str, **more: object) -> Entry:
    return Entry(number, "HULL-1", kind, hours(hour), **more)


def sequence(*entries: Entry) -> list[int]:
    """The numbers of what bears on the insert, in order."""
    of: dict[str, list[Placed]] = {
        tool: effective([one for one in entries if one.tool == tool]) for tool in ("BOW-1", "HULL-1", "DECK-1")
    }
    molds = {mold: uses(of[mold]) for mold in ("HULL-1", "DECK-1")}
    return [one.id for _, _, one in with_uses(of["BOW-1"], stays(of["BOW-1"]), molds)]


def test_a_stay_is_half_open():
    stay = Stay("HULL-1", hours(0), hours(2))
    assert [stay.holds(hours(at)) for at in (0, 1, 2)] == [True, True, False]
    assert not stay.holds(hours(0) - INSTANT)
    assert stay.holds(hours(2) - INSTANT)
    assert Stay("HULL-1", hours(0), None).holds(datetime.max.replace(tzinfo=UTC))


def test_stays_follow_installed_and_removed():
    log = [bow(1, 0, "installed", "HULL-1"), bow(2, 1, "coat"), bow(3, 2, "removed"), bow(4, 3, "installed", "DECK-1")]
    assert stays(effective(log)) == [Stay("HULL-1", hours(0), hours(2)), Stay("DECK-1", hours(3), None)]


def test_a_second_installed_in_the_same_mold_and_a_removed_of_nothing_do_nothing():
    log = [
        bow(1, 0, "removed"),
        bow(2, 1, "installed", "HULL-1"),
        bow(3, 2, "installed", "HULL-1"),
        bow(4, 3, "removed"),
        bow(5, 4, "removed"),
    ]
    assert stays(effective(log)) == [Stay("HULL-1", hours(1), hours(3))]


def test_in_and_out_at_one_instant_is_no_time_at_all():
    log = [bow(1, 0, "installed", "HULL-1"), bow(2, 0, "removed")]
    (stay,) = stays(effective(log))
    assert not stay.holds(hours(0))
    assert sequence(*log, hull(3, 0, "pull")) == [1, 2]


def test_over_to_another_mold_at_one_instant_in_the_order_of_recording():
    log = [bow(1, 0, "installed", "HULL-1"), bow(2, 1, "removed"), bow(3, 1, "installed", "DECK-1")]
    assert stays(effective(log)) == [Stay("HULL-1", hours(0), hours(1)), Stay("DECK-1", hours(1), None)]
    with pytest.raises(TwoMolds):
        stays(effective([log[0], bow(2, 1, "installed", "DECK-1"), bow(3, 1, "removed")]))


def test_in_two_molds_at_once_names_the_entry_and_the_mold_it_is_in():
    second = bow(2, 1, "installed", "DECK-1")
    with pytest.raises(TwoMolds) as refused:
        stays(effective([bow(1, 0, "installed", "HULL-1"), second]))
    assert (refused.value.entry, refused.value.other) == (second, "HULL-1")


def test_a_void_of_the_removal_puts_it_in_two_molds():
    log = [bow(1, 0, "installed", "HULL-1"), bow(2, 1, "removed"), bow(3, 2, "installed", "DECK-1")]
    assert len(stays(effective(log))) == 2
    with pytest.raises(TwoMolds):
        stays(effective([*log, bow(4, 3, "void", voids=2)]))


@pytest.mark.parametrize(("hour", "is_reached"), [(-1, False), (0, True), (1, True), (2, False), (3, False)])
def test_a_use_reaches_what_is_in_at_its_instant(hour, is_reached):
    log = [bow(1, 0, "installed", "HULL-1"), bow(2, 2, "removed")]
    assert (3 in sequence(*log, hull(3, hour, "pull"))) is is_reached


def test_at_the_instant_of_the_fitting_the_time_counts_and_not_the_number():
    assert sequence(hull(1, 0, "pull"), bow(2, 0, "installed", "HULL-1")) == [1, 2]
    assert sequence(bow(1, 0, "installed", "HULL-1"), hull(2, 1, "pull"), bow(3, 1, "removed")) == [1, 3]


@pytest.mark.parametrize("kind", ["lay_up_done", "pull", "abandoned"])
def test_what_ends_a_lay_up_reaches_what_was_in_then(kind):
    log = [bow(1, 0, "installed", "HULL-1"), hull(2, 1, "lay_up"), bow(3, 2, "removed"), hull(4, 3, kind)]
    assert sequence(*log) == [1, 2, 3, 4]


@pytest.mark.parametrize(("kind", "again"), [("lay_up_done", True), ("pull", False), ("abandoned", False)])
def test_only_the_end_of_the_part_closes_its_lay_up(kind, again):
    log = [bow(1, 0, "installed", "HULL-1"), hull(2, 1, "lay_up"), bow(3, 2, "removed"), hull(4, 3, kind)]
    assert (5 in sequence(*log, hull(5, 4, "pull"))) is again


def test_a_pull_belongs_to_every_lay_up_that_is_open():
    log = [bow(1, 0, "installed", "HULL-1"), hull(2, 1, "lay_up"), bow(3, 2, "removed"), hull(4, 3, "lay_up")]
    assert sequence(*log, hull(5, 4, "pull")) == [1, 2, 3, 5]
    assert [use.instants for use in uses(effective([log[1], log[3], hull(5, 4, "pull")]))] == [
        (hours(1),),
        (hours(3),),
        (hours(4), hours(1), hours(3)),
    ]


def test_other_work_on_the_mold_and_uses_of_another_mold_do_not_reach_it():
    log = [bow(1, 0, "installed", "HULL-1"), hull(2, 1, "coat"), Entry(3, "DECK-1", "pull", hours(1))]
    assert sequence(*log, bow(4, 1, "coat")) == [1, 4]
    assert not reached([Stay("HULL-1", hours(0), None)], "DECK-1", [hours(1)])


def test_a_correction_of_a_use_reaches_what_was_in_at_its_new_time():
    log = [bow(1, 0, "installed", "HULL-1"), hull(2, 1, "pull"), bow(3, 2, "removed")]
    assert sequence(*log, hull(4, 3, "pull", replaces=2)) == [1, 3]
    assert sequence(*log, hull(4, 1.5, "pull", replaces=2)) == [1, 4, 3]
