"""What a hand is asked at the check of a cut edge: at which points, how far off each may be, held against what."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from django.utils.translation import gettext as _

from tooling.models import Entry, Tool
from tooling.models.serials import split
from trimfixtures.calc.outline import read_outline
from trimfixtures.calc.points import Point, read_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.models import FeatureKind, Finish, Mask

# How many cuts and checks are looked through.
_LOOKED = 30


@dataclass(frozen=True, slots=True)
class ToCheck:
    """`points`: one at least. `limit`: the tolerance of the edge, in mm; None where nobody has said.

    `part`, `serial`: what was trimmed last. `gauges`, `calibrated`: what it was checked with, the last first, and until
    when each instrument was good.
    """

    points: tuple[Point, ...]
    limit: Decimal | None = None
    part: str = ""
    serial: str = ""
    gauges: tuple[str, ...] = ()
    calibrated: Mapping[str, date | None] = field(default_factory=dict)


def to_check(tool: Tool, at: datetime) -> ToCheck:
    """What is asked of a trim mask, in a fixed number of queries."""
    mask = Mask.objects.filter(tool=tool).first()
    last = Entry.objects.filter(tool=tool, kind="used", at__lte=at).standing().order_by("-at", "-pk").first()
    checks = Entry.objects.filter(tool=tool, kind="check", at__lte=at).standing().order_by("-at", "-pk")[:_LOOKED]
    gauges, calibrated = [], {}
    for said in (one.payload for one in checks):
        gauges.append(said.get("gauge", ""))
        if said.get("instrument"):
            until = said.get("calibrated_until")
            calibrated.setdefault(said["instrument"], date.fromisoformat(until) if until else None)
    return ToCheck(
        points=points_of(mask),
        limit=limit_of(mask),
        part=last.part if last is not None else "",
        serial=next(iter(reversed(split(last.serial))), "") if last is not None else "",
        gauges=tuple(dict.fromkeys(one for one in gauges if one)),
        calibrated=calibrated,
    )


def points_of(mask: Mask | None) -> tuple[Point, ...]:
    """Those that were chosen for it, else four that divide the outline evenly, else the edge as a whole."""
    if mask is not None:
        try:
            if chosen := read_points(mask.points):
                return tuple(Point(one.name, one.along) for one in chosen)
            if mask.outline:
                return _four(read_outline(mask.outline).length)
        except Refusal:
            pass  # said where the trim mask is described
    return (Point(_("the whole edge")),)


def limit_of(mask: Mask | None) -> Decimal | None:
    """The tolerance of the last edge that is cut, a net one before others."""
    if mask is None:
        return None
    edges = mask.features.in_order().filter(kind=FeatureKind.EDGE, tolerance_mm__isnull=False)
    found = sorted(edges, key=lambda one: one.finish == Finish.NET)
    return found[-1].tolerance_mm if found else None


def _four(around: float) -> tuple[Point, ...]:
    names = (_("start"), _("first quarter"), _("half way"), _("third quarter"))
    return tuple(Point(name, round(around * place / 4, 1)) for place, name in enumerate(names))
