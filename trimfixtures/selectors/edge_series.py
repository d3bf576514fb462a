"""Where a cut edge is going, by its checks since it was last mended."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from tooling.calc.trend import Crossing
from tooling.models import Entry
from trimfixtures.calc import edges
from trimfixtures.drawing.deviations import in_order
from trimfixtures.selectors.edge_check import Check


@dataclass(frozen=True, slots=True)
class Drift:
    """How one point went from check to check. drifts: whether it goes anywhere, wherever its limit is."""

    name: str
    readings: int
    crossing: Crossing
    drifts: bool


@dataclass(frozen=True, slots=True)
class Series:
    """What the checks since the last mend say.

    begins: when the check failed that it was mended after; None where all count. most: so many checks are taken, None
    where those are all. mixed: whether readings of several points lie together in `capability`.
    """

    begins: datetime | None
    most: int | None
    drifts: list[Drift]
    capability: edges.Capability | None
    mixed: bool


def series_of(newest_first: Sequence[Check], mended: Entry | None, *, all_of_it: bool) -> Series:
    """Of the checks since this one, which failed and which it was mended after; all_of_it: no older one is left out."""
    checks = newest_first[::-1]
    limit = next((one.limit for one in newest_first if one.limit), None)
    taken = [
        point for one in checks if one.limit == limit for point in one.points if limit and point.deviation is not None
    ]
    return Series(
        begins=mended.at if mended is not None else None,
        most=None if all_of_it else len(checks),
        drifts=list(_drifts(checks)),
        capability=_capability([point.deviation for point in taken if point.deviation is not None], limit),
        mixed=len({point.name.casefold() for point in taken}) > 1,
    )


def _drifts(checks: Sequence[Check]) -> Iterator[Drift]:
    """Of each point that the last measured check has, by all the checks that measured it."""
    series: dict[str, list[tuple[int, float]]] = defaultdict(list)
    for check in checks:
        for point in check.points:
            if point.deviation is not None:
                series[point.name.casefold()].append((check.uses, point.deviation))
    last = next(
        (one for one in reversed(checks) if one.limit and any(p.deviation is not None for p in one.points)), None
    )
    for point in in_order(last.points) if last is not None else ():
        if point.deviation is not None and last is not None and last.limit:
            uses, found = zip(*series[point.name.casefold()], strict=True)
            crossing = edges.drift(uses, found, last.limit)
            yield Drift(point.name, len(found), crossing, edges.is_drifting(uses, found))


def _capability(readings: Sequence[float], limit: float | None) -> edges.Capability | None:
    """Of all that was measured against the limit that holds now; None with fewer than two readings."""
    return edges.capability(readings, -limit, limit, 0.0) if limit and len(readings) >= 2 else None
