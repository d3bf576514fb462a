"""What was answered to a checklist comes back as it was written, and what cannot be is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tooling.calc.answers import SAID, Answer, read_answers, write_answers

WORDS = some.text(some.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=20)
ANSWERS = some.builds(Answer, some.integers(1, 999), some.sampled_from(SAID), WORDS)


@given(some.lists(ANSWERS, unique_by=lambda one: one.item, max_size=5))
def test_comes_back_as_it_was_written(answers):
    assert read_answers(write_answers(answers)) == tuple(answers)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("all good", "answers nothing"),
        ("1 fine", "is none of good, not_good, left"),
        ("1 good\n1 left", "answered twice"),
    ],
)
def test_refuses_what_cannot_be(text, says):
    with pytest.raises(ValueError, match=says):
        read_answers(text)
