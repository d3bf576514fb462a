"""What an entry says of defects comes back as it was written, and what cannot be is refused."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tooling.calc.defect_lines import DID, KINDS, DefectLine, read_defects, write_defects

WORDS = some.text(some.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=20)
LINES = some.builds(
    DefectLine,
    number=some.integers(1, 999_999),
    did=some.sampled_from(DID),
    kind=some.sampled_from(KINDS),
    size_mm=some.none() | some.decimals("0.000001", "30000", places=6),
    x=some.integers(0, 1000),
    y=some.integers(0, 1000),
    place=some.sampled_from(["", "flange"]),
    words=WORDS,
)


@given(some.lists(LINES, unique_by=lambda line: line.number, max_size=5))
def test_comes_back_as_it_was_written(lines):
    assert read_defects(write_defects(lines)) == tuple(lines)


def test_reads_what_a_person_writes():
    assert read_defects("3 found  crack, 12 mm, at 412 310, on the flange: by the bolt\n\n1 closed") == (
        DefectLine(3, "found", "crack", Decimal(12), 412, 310, "flange", "by the bolt"),
        DefectLine(1, "closed"),
    )


def test_words_of_several_lines_stand_on_one():
    assert write_defects([DefectLine(1, "seen", words="as it\nwas")]) == "1 seen: as it was"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("a crack", "says nothing of a defect"),
        ("1 mended", "is none of found, seen, closed, opened"),
        ("1 found", "is of no kind"),
        ("1 found hole", "is none of chip"),
        ("1 seen, at 1001 4", "outside the picture"),
        ("1 seen, 0 mm", "above 0"),
        ("1 seen, 30001 mm", "at most 30000"),
        ("1 seen\n1 closed", "said twice"),
    ],
)
def test_refuses_what_cannot_be(text, says):
    with pytest.raises(ValueError, match=says):
        read_defects(text)
