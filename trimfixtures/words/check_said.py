"""A check of a cut edge as page and paper both say it: its line among the others, and the table beside its picture."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from tooling.words.sizes import worked
from trimfixtures.calc.edges import is_out
from trimfixtures.calc.points import Point
from trimfixtures.drawing.deviations import in_order
from trimfixtures.words import edge_checks as words


@dataclass(frozen=True, slots=True)
class CheckSaid:
    """A check in a line or two. late: that what measured was past its calibration."""

    check: Any
    head: str
    about: list[str]
    late: str


@dataclass(frozen=True, slots=True)
class PointSaid:
    """A row of the table. before: what it was at the checks before, the newest first."""

    point: Point
    along: str
    found: str
    out: bool
    judged: str
    before: str


def check_said(check: Any, units: str, today: date) -> CheckSaid:
    """A check of `selectors.edge_checks`, in the reader's units."""
    return CheckSaid(check, words.head(check), list(words.about(check, units)), words.calibration(check, today))


def points_said(one: Any, before: Sequence[Any], units: str) -> list[PointSaid]:
    """The table beside the picture, in its order; last what nobody looked at."""
    drawn = in_order(one.points)
    every = (*drawn, *(point for point in one.points if point not in drawn))
    return [_point(point, one.limit, before, units) for point in every]


def _point(point: Point, limit: float | None, before: Sequence[Any], units: str) -> PointSaid:
    out = is_out(point, limit)
    return PointSaid(
        point=point,
        along=worked(point.along, units) if point.along is not None else "",
        found=words.found(point, units),
        out=out,
        judged=words.judged(point, out=out, limit=limit),
        before=words.earlier(point.name, before, units),
    )
