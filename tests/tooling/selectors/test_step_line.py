"""The line of steps of one tool: what is done, where it is, what is next."""

from dataclasses import dataclass
from itertools import count

import pytest

from tests.tooling.rows import NOON
from tooling.models import Entry
from tooling.selectors.step_line import line_of

number = count(1)


@dataclass(frozen=True)
class Listed:
    name: str
    by_entry: str = ""
    note: str = ""


PLUG = [Listed("Roughed"), Listed("Filled"), Listed("Sanded"), Listed("Measured", "reading"), Listed("Waxed", "coat")]


def wrote(*said):
    """Steps by their names, and other entries by `+kind`."""
    for one in said:
        kind = one[1:] if one.startswith("+") else "making"
        yield Entry(pk=next(number), kind=kind, at=NOON, payload={} if one.startswith("+") else {"step": one})


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ([], "Roughed:next Filled:later Sanded:later Measured:later Waxed:later"),
        (["Roughed", "filled"], "Roughed:done Filled:now Sanded:next Measured:later Waxed:later"),
        (["Filled"], "Roughed:passed Filled:now Sanded:next Measured:later Waxed:later"),
        # a reading between is a step only where it is the next one; a coat says by itself how far it is
        (["Filled", "+reading"], "Roughed:passed Filled:now Sanded:next Measured:later Waxed:later"),
        (["Sanded", "+reading"], "Roughed:passed Filled:passed Sanded:done Measured:now Waxed:next"),
        (["Filled", "+coat", "+coat"], "Roughed:passed Filled:done Sanded:passed Measured:passed Waxed:now"),
        (["+strip"], "Roughed:next Filled:later Sanded:later Measured:later Waxed:later"),
        # back again: what came behind is to be done once more
        (["Roughed", "Sanded", "+coat", "Filled"], "Roughed:done Filled:now Sanded:next Measured:later Waxed:later"),
        # steps of its own
        (["Filled", "Dried"], "Roughed:passed Filled:done Dried:now Sanded:next Measured:later Waxed:later"),
        (["Filled", "Dried", "Sanded"], "Roughed:passed Filled:done Dried:done Sanded:now Measured:next Waxed:later"),
        (["Filled", "Dried", "Roughed"], "Roughed:now Filled:next Sanded:later Measured:later Waxed:later"),
        (["Drawn"], "Drawn:now Roughed:next Filled:later Sanded:later Measured:later Waxed:later"),
        ([""], "Roughed:next Filled:later Sanded:later Measured:later Waxed:later"),
    ],
)
def test_how_each_step_stands(said, line):
    found = line_of(PLUG, wrote(*said))
    assert " ".join(f"{one.name}:{one.stands}" for one in found.steps) == line
    assert found.is_through == line.endswith("Waxed:now")


def test_what_was_written_of_a_step_begins_with_the_first_since_it_was_come_to():
    first, again, coat, back, more = wrote("Filled", "Filled", "+coat", "Filled", "filled")
    assert line_of(PLUG, [first, again]).now.entries == (first, again)
    found = line_of(PLUG, [first, again, coat, back, more])
    assert (found.now.began, found.entries) == (back, [back, more])


def test_behind_the_last_step_it_is_through_and_accepted_nothing_is_next():
    found = line_of(PLUG, wrote("+coat", "Sanded", "+coat"))
    assert found.is_through
    assert found.now.name == "Waxed"
    made = line_of(PLUG, wrote("Filled", "Dried"), Entry(kind="accepted"))
    assert [one.stands for one in made.steps] == ["passed", "done", "done", "passed", "passed", "passed"]
    assert made.now is None
    assert made.next is None


def test_without_a_list_nobody_can_say_what_is_next():
    found = line_of([], wrote("base frame", "planked", "Planked"))
    assert [(one.name, one.stands, len(one.entries)) for one in found.steps] == [
        ("base frame", "done", 1), ("planked", "now", 2)
    ]  # fmt: skip
    assert found.next is None
    assert not found.is_through
