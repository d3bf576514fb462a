"""The checks of the edge that a trim mask cuts: each as it was found, against how many parts were cut by then."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from itertools import accumulate
from typing import Any

from tooling.calc.trend import Crossing
from tooling.models import Entry, Tool
from trimfixtures.calc import edges
from trimfixtures.calc.outline import Outline
from trimfixtures.calc.points import Point, read_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.drawing.deviations import in_order
from trimfixtures.models import Mask
from trimfixtures.selectors.trim import outline_of


@dataclass(frozen=True, slots=True)
class Check:
    """One check that stands. uses: parts cut by then. said: what was found, where it cannot be read as points.

    expired: what measured was not calibrated any more on that day.
    """

    number: int
    at: datetime
    by: str
    recorded_at: datetime
    recorded_by: str
    passed: bool
    part: str
    serial: str
    gauge: str
    instrument: str
    calibrated_until: date | None
    expired: bool
    limit: float | None
    points: tuple[Point, ...]
    said: str
    note: str
    uses: int

    @property
    def out(self) -> tuple[Point, ...]:
        """The points that were out, or farther off than the limit."""
        return tuple(one for one in self.points if edges.is_out(one, self.limit))


@dataclass(frozen=True, slots=True)
class Drift:
    """How one point went from check to check."""

    name: str
    readings: int
    last: float
    crossing: Crossing


@dataclass(frozen=True, slots=True)
class EdgeChecks:
    """All checks of a trim mask up to a moment, the newest first, and what follows from them.

    mask, outline: None where nobody has described it. uses: parts cut by now.
    """

    tool: Tool
    mask: Mask | None
    outline: Outline | None
    checks: list[Check]
    uses: int
    drifts: list[Drift]
    capability: edges.Capability | None

    @property
    def length(self) -> float | None:
        """All around the outline, in mm."""
        return self.outline.length if self.outline is not None else None

    def numbered(self, number: int | None) -> tuple[Check | None, list[Check]]:
        """The check of that number, else the newest that has points, else the newest; and those before it."""
        found = next((one for one in self.checks if one.number == number), None)
        found = found or next((one for one in self.checks if one.points), None) or next(iter(self.checks), None)
        return found, self.checks[self.checks.index(found) + 1 :] if found else []


def last_points(before: Sequence[Check]) -> tuple[Point, ...]:
    """Those of the newest of these checks that has any."""
    return next((check.points for check in before if check.points), ())


def edge_checks(tool: Tool, at: datetime, zone: tzinfo) -> EdgeChecks:
    """Those of one trim mask as of a moment, in three queries."""
    mask = Mask.objects.filter(tool=tool).first()
    standing = Entry.objects.filter(tool=tool, at__lte=at).standing()
    used = standing.filter(kind="used").order_by("at", "pk").values_list("at", "pk", "count")
    moments = [(when, pk) for when, pk, _count in used]
    total = [0, *accumulate(count or 1 for _when, _pk, count in used)]
    rows = standing.filter(kind="check").select_related("by", "recorded_by").order_by("at", "pk")
    found = [_check(row, total[bisect_left(moments, (row.at, row.pk))], zone) for row in rows]
    return EdgeChecks(
        tool=tool,
        mask=mask,
        outline=outline_of(mask),
        checks=found[::-1],
        uses=total[-1],
        drifts=list(_drifts(found)),
        capability=_capability(found),
    )


def last_check(tool: Tool, at: datetime, zone: tzinfo) -> Check | None:
    """The last one as of a moment, by itself: how many parts were cut by then is not counted."""
    rows = Entry.objects.filter(tool=tool, kind="check", at__lte=at).standing().select_related("by")
    row = rows.order_by("-at", "-pk").first()
    return _check(row, 0, zone) if row is not None else None


def _check(row: Entry, uses: int, zone: tzinfo) -> Check:
    known: dict[str, Any] = row.payload
    until = date.fromisoformat(known["calibrated_until"]) if known.get("calibrated_until") else None
    points, said = _read(known.get("points", ""))
    return Check(
        number=row.number,
        at=row.at,
        by=row.by.name if row.by is not None else "",
        recorded_at=row.recorded_at,
        recorded_by=row.recorded_by.name if row.recorded_by is not None else "",
        passed=bool(known.get("passed")),
        part=row.part,
        serial=row.serial,
        gauge=known.get("gauge", ""),
        instrument=known.get("instrument", ""),
        calibrated_until=until,
        expired=until is not None and row.at.astimezone(zone).date() > until,
        limit=float(known["limit_mm"]) if known.get("limit_mm") else None,
        points=points,
        said=said,
        note=known.get("note", ""),
        uses=uses,
    )


def _read(text: str) -> tuple[tuple[Point, ...], str]:
    """The points, or the text as it stands where an older sheet wrote it otherwise."""
    try:
        return read_points(text), ""
    except Refusal:
        return (), text


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
            yield Drift(point.name, len(found), found[-1], edges.drift(uses, found, last.limit))


def _capability(checks: Sequence[Check]) -> edges.Capability | None:
    """Of all that was measured against the limit that holds now; None with fewer than two readings."""
    limit = next((one.limit for one in reversed(checks) if one.limit), None)
    if not limit:
        return None
    readings = [
        point.deviation for one in checks if one.limit == limit for point in one.points if point.deviation is not None
    ]
    return edges.capability(readings, -limit, limit, 0.0) if len(readings) >= 2 else None
