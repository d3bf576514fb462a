"""A trim mask at work: a part cut against it, and the cut edge checked."""

from datetime import date
from decimal import Decimal
from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def log_use(
    trim_mask: Tool,
    *,
    count: int = 1,
    serial: str = "",
    part: str = "",
    revision: str = "",
    cutter: str = "",
    minutes: Decimal | None = None,
    metres: Decimal | None = None,
    outcome: str = "",
    **said: Unpack[Said],
) -> Entry:
    """Parts were trimmed against the trim mask.

    cutter: the codes of what was taken, with commas. metres: how far it cut in all. outcome: one of OUTCOMES, "" where
    all went well.
    """
    return record(
        trim_mask,
        "used",
        count=count,
        serial=serial,
        part=part,
        revision=revision,
        cutter=cutter,
        minutes=minutes,
        metres=metres,
        outcome=outcome,
        **said,
    )


def log_check(
    trim_mask: Tool,
    *,
    passed: bool,
    serial: str = "",
    part: str = "",
    gauge: str = "",
    points: str = "",
    limit_mm: Decimal | None = None,
    instrument: str = "",
    calibrated_until: date | None = None,
    **said: Unpack[Said],
) -> Entry:
    """The cut edge of a part was checked, and so the trim mask.

    gauge: what it was held against (a master part, a gauge). points: what was found where, in the words of
    `trimfixtures.calc.points`; limit_mm: how far off a point may be, either way. instrument: what measured, good until.
    """
    return record(
        trim_mask,
        "check",
        passed=passed,
        serial=serial,
        part=part,
        gauge=gauge,
        points=points,
        limit_mm=limit_mm,
        instrument=instrument,
        calibrated_until=calibrated_until,
        **said,
    )
