"""One check of the edge that a trim mask cuts, as it was found."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Any

from tooling.calc.calibration import is_calibration_over
from tooling.models import Entry, Tool
from trimfixtures.calc import edges
from trimfixtures.calc.points import Point, read_points
from trimfixtures.calc.refusal import Refusal


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


def last_points(before: Sequence[Check]) -> tuple[Point, ...]:
    """Those of the newest of these checks that has any."""
    return next((check.points for check in before if check.points), ())


def last_check(tool: Tool, at: datetime, zone: tzinfo) -> Check | None:
    """The last one as of a moment, by itself: how many parts were cut by then is not counted."""
    rows = Entry.objects.filter(tool=tool, kind="check", at__lte=at).standing().select_related("by")
    row = rows.order_by("-at", "-pk").first()
    return check_of(row, 0, zone) if row is not None else None


def check_of(row: Entry, uses: int, zone: tzinfo) -> Check:
    """Out of its entry; uses: parts cut by then."""
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
        expired=is_calibration_over(until, row.at, zone),
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
