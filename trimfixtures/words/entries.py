"""What a line of the history says of a cut, and of the check of a cut edge, besides how it went."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _

from tooling.calc.calibration import is_calibration_over
from tooling.words.entries import Around, Fact
from tooling.words.sizes import exactly
from tooling.words.when import day
from trimfixtures.calc.edges import Judged, judge
from trimfixtures.calc.points import read_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.calc.spoilt import is_lost


def check(fact: Fact, around: Around) -> Iterator[str]:
    """Against what, whether what measured was past its day, and what was found."""
    known = fact.payload
    if known.get("gauge"):
        yield _("Against %(gauge)s.") % {"gauge": known["gauge"]}
    until = date.fromisoformat(known["calibrated_until"]) if known.get("calibrated_until") else None
    if until is not None and is_calibration_over(until, fact.at, around.zone):
        said = day(until, around.now.astimezone(around.zone).date())
        yield _("Its calibration had ended on %(day)s.") % {"day": said}
    elif until is None and known.get("limit_mm"):
        yield _("Until when it is calibrated was not said.")
    if known.get("points"):
        yield from _found(known["points"], known.get("limit_mm"), around.units)


def used(fact: Fact, around: Around) -> Iterator[str]:
    """Of a part that was spoiled whether it is lost; what was cut into is said already."""
    if is_lost(fact.payload):
        yield _("The part is lost.")


def _found(points: str, limit: str | None, units: str) -> Iterator[str]:
    try:
        found = judge(read_points(points), float(limit) if limit else None)
    except Refusal:
        yield _("Found: %(points)s.") % {"points": points}
        return
    if found.out:
        yield _("Out: %(points)s.") % {"points": ", ".join(one.name for one in found.out)}
    if found.good:
        yield _("In: %(points)s.") % {"points": ", ".join(one.name for one in found.good)}
    yield from _worst(found, limit, units)


def _worst(found: Judged, limit: str | None, units: str) -> Iterator[str]:
    if found.worst is None or not found.worst.deviation or limit is None:
        return
    off = found.worst.deviation
    sign = "+" if off > 0 else "\N{MINUS SIGN}"
    said = {"point": found.worst.name, "off": sign + exactly(abs(off), units), "limit": exactly(Decimal(limit), units)}
    yield _("Furthest off: %(off)s, %(point)s; tolerance ±%(limit)s.") % said
