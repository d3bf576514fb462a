"""How far a wanted part is. Expected numbers were counted by hand, from the words of each case."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.wanted import Begun, progress

START = datetime(2026, 5, 12, 8, tzinfo=UTC)


def begun(hour, ended="", pulled=None, tool="M", group="", parts=1, serials=""):
    """A lay-up so many hours after the start; it ended two hours later."""
    at = START + timedelta(hours=hour)
    whole = pulled if pulled is not None else int(ended == "pull")
    numbers = frozenset(serials.split())
    return Begun(tool, group, at, parts, ended, at + timedelta(hours=2) if ended else None, whole, numbers)


def half(tool, hour, ended="", pulled=None, serials=""):
    return begun(hour, ended, pulled, tool, "S", serials=serials)


@pytest.mark.parametrize(
    ("count", "all_of", "laid_up", "pulled", "done_after"),
    [
        (2, [], 0, 0, None),
        (2, [begun(0)], 1, 0, None),
        (2, [begun(0, "pull"), begun(3)], 2, 1, None),
        (2, [begun(3, "pull"), begun(0, "pull")], 2, 2, 5),
        # given up, lost, laid up again without a pull: wanted as before
        (1, [begun(0, "abandoned")], 0, 0, None),
        (1, [begun(0, "pull", pulled=0)], 0, 0, None),
        (1, [begun(0, "lay_up"), begun(1)], 1, 0, None),
        # three cavities come off at once, more than were wanted
        (2, [begun(0, "pull", pulled=3)], 3, 3, 2),
        (4, [begun(0, parts=2)], 2, 0, None),
        # two halves make one part, which is off when it is off both
        (1, [begun(0, "pull", tool="L", group="R"), begun(0, tool="R", group="R")], 1, 0, None),
        (1, [begun(0, "pull", tool="L", group="R"), begun(1, "pull", tool="R", group="R")], 1, 1, 3),
        (1, [begun(0, "pull", tool="L", group="R"), begun(0, "pull", 0, tool="R", group="R")], 0, 0, None),
        # L was given up alone; then both were laid up, and R still holds the part
        (1, [half("L", 0, "abandoned"), half("L", 3, "pull"), half("R", 3)], 1, 0, None),
        (2, [half("L", 0, "abandoned"), *(half(one, n, "pull") for n in (3, 6) for one in "LR")], 2, 2, 8),
        # L was laid up before it was wanted: that part does not count, and the next one is not taken for it
        (1, [half("L", -2, "pull"), half("R", -1, "pull"), half("L", 3, "pull"), half("R", 3)], 1, 0, None),
        (1, [half("L", -2, "pull"), half("R", 0, "pull")], 0, 0, None),
        # the other half is given up with it
        (1, [half("L", 0, "abandoned"), half("R", 1)], 0, 0, None),
        # the numbers tell two parts apart, and one without a number belongs to the nearest
        (2, [half("L", 0, "pull", serials="1"), half("R", 0, serials="2")], 2, 1, None),
        (1, [half("L", 0, "pull", serials="1"), half("R", 1)], 1, 0, None),
        # a half that was never written down takes none of a week later
        (2, [half("L", 0, "pull"), half("R", 99, "pull")], 2, 2, 101),
        # whichever half says more knows how many it was
        (3, [half("L", 0, "pull", 3), half("R", 0, "pull", 1)], 3, 3, 2),
        # two tools that are no halves make two
        (2, [begun(0, "pull", tool="A"), begun(0, "pull", tool="B")], 2, 2, 2),
    ],
)
def test_what_is_laid_up_and_pulled(count, all_of, laid_up, pulled, done_after):
    found = progress(all_of, count, START)
    assert (found.laid_up, found.pulled, found.missing) == (laid_up, pulled, max(0, count - laid_up))
    assert found.done_at == (None if done_after is None else START + timedelta(hours=done_after))


def test_it_says_where_a_part_is_now():
    halves = [begun(0, "pull", tool="L", group="R"), begun(0, tool="R", group="R")]
    assert progress([*halves, begun(1, tool="A"), begun(0, "pull", tool="B")], 3).inside == ("R", "A")
