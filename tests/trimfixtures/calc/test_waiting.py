"""Which parts wait at the trim bench. The expected rows are counted by hand."""

from datetime import UTC, datetime

import pytest

from trimfixtures.calc.waiting import Cut, Off, waiting


def at(hour):
    return datetime(2026, 5, 11, hour, tzinfo=UTC)


def left(off, cuts, wanted):
    return [(one.serial, one.at.hour, sorted(one.done)) for one in waiting(off, cuts, {"P": wanted})]


@pytest.mark.parametrize(
    ("cuts", "expected"),
    [
        ([], [("1", 7, []), ("2", 7, [])]),
        ([Cut("A", "P", at(8), ("1",))], [("1", 7, ["A"]), ("2", 7, [])]),
        ([Cut("A", "P", at(8), ("1", "2"), 2), Cut("B", "", at(9), ("2",))], [("1", 7, ["A"])]),
        ([Cut("A", "Q", at(8), ("1",)), Cut("A", "P", at(8), ("9",))], [("1", 7, []), ("2", 7, [])]),
        ([Cut(mask, "P", at(9), ("1", "2"), 2) for mask in "AB"], []),
    ],
)
def test_a_number_waits_until_every_trim_mask_has_cut_it(cuts, expected):
    assert left([Off("P", at(7), ("1", "2"), 2)], cuts, ["A", "B"]) == expected


@pytest.mark.parametrize(
    ("cuts", "expected", "spoilt"),
    [
        ([Cut("A", "P", at(8), ("1",), spoilt=True)], [("1", 7, []), ("2", 7, [])], [8, None]),
        ([Cut("A", "P", at(8), ("1", "2"), 2, spoilt=True)], [("2", 7, [])], [8]),
        ([Cut("A", "P", at(9), ("1",)), Cut("A", "P", at(8), ("1",), spoilt=True)], [("2", 7, [])], [None]),
        ([Cut("A", "P", at(8), ("1",), spoilt=True, lost=True)], [("2", 7, [])], [None]),
    ],
)
def test_what_was_spoilt_waits_until_it_is_cut_again_or_lost(cuts, expected, spoilt):
    off = [Off("P", at(7), ("1", "2"), 2)]
    assert left(off, cuts, ["A"]) == expected
    assert [one.spoilt and one.spoilt.at.hour for one in waiting(off, cuts, {"P": ["A"]})] == spoilt
    assert len(waiting([Off("P", at(7))], [Cut("A", "P", at(8), spoilt=True)], {"P": ["A"]})) == 1


def test_a_trim_mask_cuts_no_part_of_the_other_hand():
    off = [Off("P", at(7), ("1",), 2, "L"), Off("P", at(8), ("1",), 2, "R")]
    found = waiting(off, [Cut("A", "P", at(9))], {"P": ["A", "B"]}, {"A": "R"})
    assert [(one.serial, one.at.hour, one.done, one.skip) for one in found] == [
        ("", 7, set(), {"A"}), ("1", 7, set(), {"A"}), ("", 8, {"A"}, set()), ("1", 8, set(), set()),
    ]  # fmt: skip
    assert not waiting(off[:1], [], {"P": ["A"]}, {"A": "R"})


def test_of_parts_without_a_number_the_oldest_are_cut_first():
    off = [Off("P", at(9)), Off("P", at(7), count=2)]
    assert left(off, [Cut("A", "P", at(8), count=2)], ["A"]) == [("", 9, [])]
    assert len(left(off, [Cut("A", "P", at(6), count=2)], ["A"])) == 3, "that was another part, before these came off"
    assert len(left(off, [Cut("A", "P", at(8), ("5",))], ["A"])) == 3, "that was one with a number"


def test_of_one_pull_some_have_a_number():
    assert left([Off("P", at(7), ("1",), 3)], [Cut("A", "P", at(8), count=1)], ["A"]) == [("", 7, []), ("1", 7, [])]


def test_a_part_without_a_trim_mask_never_waits():
    assert waiting([Off("Q", at(7))], [], {"P": ["A"]}) == []
