"""Whether what goes on is still good when lay-up begins: a film for so many hours, a coat for so many days.

Else it goes on later, and what comes before it with it, so that no surface is begun weeks before it is finished.
"""

from collections.abc import Iterator, Sequence

from tooling.calc.chain import Link, NoPlace, place
from tooling.calc.hours import Windows

# Steps that begin later: before which moment they do not, by the number of the surface and that of the step.
Later = dict[tuple[int, int], int]


def good_from(chain: Sequence[Link], lay_up: int, windows: Windows) -> list[int | None]:
    """From when on each step has to be begun, lest it be too old when lay-up begins.

    Parameters:
        chain [us]: the links in the order of time.
        lay_up [us]: when lay-up begins.
        windows [-]: the shop's hours, for its days.

    Returns:
        [us] the first start of each; None where it may be of any age.

    Source: the house's own rules; the day of a limit is still good, as in `tooling.calc.due`.
    """
    found: list[int | None] = []
    for link in chain:
        days, longest = link.step.good_days, link.longest if link is chain[-1] else None
        first = [] if days is None else [windows.days_before(lay_up, days)]
        first += [] if longest is None else [lay_up - longest]
        found.append(max(first) - link.work if first else None)
    return found


def stale(chain: Sequence[Link], starts: Sequence[int], lay_up: int, windows: Windows) -> Iterator[tuple[int, int]]:
    """The steps that are begun too early for a lay-up.

    Parameters:
        chain [us]: the links in the order of time.
        starts [us]: their starts.
        lay_up [us]: when lay-up begins.
        windows [-]: the shop's hours, for its days.

    Returns:
        [us] the number of each such step, and the first start with which it would be good.
    """
    for number, (start, first) in enumerate(zip(starts, good_from(chain, lay_up, windows), strict=True)):
        if first is not None and start < first:
            yield number, first


def put_off(
    later: Later, surface: int, chain: Sequence[Link], starts: Sequence[int], lay_up: int, windows: Windows
) -> bool:
    """Puts off what would be too old when lay-up begins.

    Parameters:
        later [us]: what was put off so far; more is added.
        surface [-]: the number of the surface.
        chain [us]: its links in the order of time.
        starts [us]: their starts.
        lay_up [us]: when lay-up begins.
        windows [-]: the shop's hours.

    Returns:
        [-] whether anything was.
    """
    found = False
    for number, first in stale(chain, starts, lay_up, windows):
        later[surface, number] = first
        if chain[number].step.good_days and _has_time(chain, first, lay_up, windows):
            later |= {(surface, before): max(first, later.get((surface, before), first)) for before in range(number)}
        found = True
    return found


def _has_time(chain: Sequence[Link], first: int, lay_up: int, windows: Windows) -> bool:
    """Whether all of it from then on, one step after the other, leaves half of the time to the hands for others."""
    starts = list[int]()
    try:
        place(chain, [first] * len(chain), windows.earliest, starts, len(chain), lay_up)
    except NoPlace:
        return False
    return 2 * (starts[-1] + chain[-1].work + chain[-1].wait - first) <= lay_up - first
