"""Single values of a tool as rows of a page and of a table: with what each was read, and how good that was then."""

from collections.abc import Mapping
from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.calibration import is_calibration_over
from tooling.models import Kind
from tooling.words.readings import calibrated_until
from tooling.words.when import dated, day


def read_with(known: Mapping[str, Any], at: datetime, now: datetime, zone: tzinfo) -> str:
    """Gloss meter 2, ISO 2813, calibrated until 3 June; that its calibration had ended, where it had."""
    said = [str(known[name]) for name in ("instrument", "standard") if known.get(name)]
    if (until := calibrated_until(known)) is not None:
        is_over = is_calibration_over(until, at, zone)
        text = _("its calibration had ended %(day)s") if is_over else _("calibrated until %(day)s")
        said.append(text % {"day": day(until, now.astimezone(zone).date())})
    return ", ".join(said)


def titles(kind: str, zone: tzinfo) -> list[str]:
    """Of the columns of `cells`."""
    counted = _("after [parts]") if kind == Kind.TRIM_MASK else _("after [pulls]")
    return [
        _("what was measured"), f"{_('read')} [{zone}]", counted, _("segment"), _("value"), _("unit"), _("geometry"),
        _("minutes [min]"), _("spot"), _("instrument"), _("calibrated until"), _("standard"), _("by"), _("note"),
    ]  # fmt: skip


def cells(entry: Any, pulls: int, segment: int, zone: tzinfo) -> list[str]:
    """One value as it was written. segment: counted from 1, a further one after each work on the surface."""
    known = entry.payload
    said = ("value", "unit", "geometry", "minutes", "spot", "instrument", "calibrated_until", "standard")
    return [
        str(known.get("quantity", "")), dated(entry.at, zone), str(pulls), str(segment),
        *(str(known.get(name, "")) for name in said),
        entry.by.name if entry.by is not None else "", str(known.get("note", "")),
    ]  # fmt: skip
