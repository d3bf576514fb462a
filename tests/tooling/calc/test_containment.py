"""Which uses are in doubt, worked out by hand for each small history."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.containment import bare_to_parts, looked_around, lying
from tooling.calc.entry import Entry
from tooling.calc.makings import makings
from tooling.calc.order import by_key

BEGIN = datetime(2026, 5, 4, 8, tzinfo=UTC)
WORDS = {"good": ("inspected", {"passed": True}), "bad": ("inspected", {"passed": False})}


def placed(kinds):
    """Entries an hour apart, numbered from 1; flange.strip is a strip of the flange alone."""
    found = []
    for number, word in enumerate(kinds.split(), 1):
        area, _dot, kind = word.rpartition(".")
        kind, more = WORDS.get(kind, (kind, {}))
        at = BEGIN + timedelta(hours=number)
        found.append((at, number, Entry(number, "M", kind, at, area=area or "whole", **more)))
    return found


@pytest.mark.parametrize(
    ("kinds", "doubt", "expected"),
    [
        # What was pulled before the good look is left out, what came after the hold and before the next is not.
        ("pull good pull lay_up pull hold pull good pull", 6, [3, 4, 7]),
        # A look that was not passed clears nothing; without any, all of it from the acceptance on.
        ("pull accepted pull bad pull hold", 6, [3, 5]),
        ("pull pull hold lay_up", 3, [1, 2, 4]),
        # In the mold while somebody looked: it lay there before and after, and stays in doubt.
        ("lay_up good pull hold", 4, [1]),
        # Later acceptances give nothing away, and a passed look that comes later than the doubt does not clear it.
        ("good pull accepted pull hold good", 5, [2, 4]),
    ],
)
def test_since_the_last_good_look(kinds, doubt, expected):
    own = placed(kinds)
    stretch = looked_around(own, by_key(own[doubt - 1]), {"inspected"}, {"accepted"})
    assert [one.first[1] for one in makings(own) if stretch.meets(one)] == expected


@pytest.mark.parametrize(
    ("kinds", "expected"),
    [
        # A further coat is no proof that the first is gone; a strip of the whole is, one of the flange is not.
        ("pull coat pull coat pull flange.strip pull strip pull", [3, 5, 7]),
        ("flange.coat lay_up pull polish pull", [2]),
        # Filler stays under a strip, until the whole is repaired anew or resurfaced.
        ("spot.repair pull strip pull spot.repair pull repair pull", [2, 4, 6]),
        ("resurfaced pull repair pull spot.resurfaced pull", [2, 4]),
        # A film goes with the next part.
        ("film lay_up pull lay_up pull", [2]),
        ("film strip lay_up pull", []),
        # What it was built with stays for good.
        ("making pull strip pull resurfaced pull", [2, 4, 6]),
        # Laid up before the coat went on: it was there while the part was in, so it is not left out.
        ("lay_up coat pull strip", [1]),
    ],
)
def test_while_a_lot_lies_on_it(kinds, expected):
    own = placed(kinds)
    found = makings(own)
    first = next(number for _at, number, entry in own if entry.kind not in ("pull", "lay_up"))
    (stretch,) = lying(own, {first}, found)
    assert [one.first[1] for one in found if stretch.meets(one)] == expected


@pytest.mark.parametrize(
    ("kinds", "others", "expected"),
    [
        # Laid up before the other coat and pulled after it: it met the first.
        ("coat pull lay_up coat pull pull", {4}, [2, 3]),
        # Nobody said the lot of the second: it may be the same. One of a spot leaves the rest as it is.
        ("coat pull coat pull", (), [2, 4]),
        ("coat pull spot.coat pull coat pull", {3, 5}, [2, 4]),
        # Stripped before anything went over it; a filler is not covered by a coat.
        ("coat pull strip coat pull", {4}, [2]),
        ("spot.repair coat pull", {2}, [3]),
    ],
)
def test_while_its_coat_is_the_last_one_on(kinds, others, expected):
    own = placed(kinds)
    found = makings(own)
    (stretch,) = lying(own, {1}, found)
    first = bare_to_parts(own, stretch, others)
    assert [one.first[1] for one in found if first.meets(one)] == expected
