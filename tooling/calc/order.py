"""Which entries count, and in which order: voids and corrections resolved, late entries in their place."""

from collections.abc import Iterable
from datetime import datetime
from operator import attrgetter, itemgetter

from tooling.calc.entry import VOID, Entry

# (at, recording number of the first entry of its correction chain, the entry): unique by the first two.
Placed = tuple[datetime, int, Entry]
Key = tuple[datetime, int]

by_key = itemgetter(0, 1)
_number = attrgetter("id")


def effective(
    entries: Iterable[Entry], as_of: datetime | None = None, known_at: datetime | None = None
) -> list[Placed]:
    """The entries of one tool that stand, in the order in which they happened.

    A void or a correction acts whatever its own `at`; voiding a correction does not revive the original. A
    correction has its own `at`, and among entries of one instant it stands where the first of its chain stood.

    Parameters:
        entries [-]: all entries of one tool, voids and corrections included.
        as_of [UTC]: keep what happened at or before this instant; None keeps all.
        known_at [UTC]: drop what was recorded after this instant, voids and corrections too; None keeps all.

    Returns:
        [-] a list of (at, first number of the chain, entry), sorted.

    Source: the house's own rules of release.
    """
    known = [e for e in entries if known_at is None or (e.recorded_at is not None and e.recorded_at <= known_at)]
    known.sort(key=_number)  # as they come from a table it costs nothing; a chain needs its first before its second
    gone: set[int] = set()
    roots: dict[int, int] = {}
    for entry in known:
        if entry.voids is not None:
            gone.add(entry.voids)
        elif entry.replaces is not None:
            gone.add(entry.replaces)
            roots[entry.id] = roots.get(entry.replaces, entry.replaces)
    placed = [
        (e.at, roots.get(e.id, e.id), e)
        for e in known
        if e.kind != VOID and e.id not in gone and (as_of is None or e.at <= as_of)
    ]
    placed.sort(key=by_key)
    return placed
