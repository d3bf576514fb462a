"""What a correction asks of a cut and of a check, and how an entry keeps it."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from shared.units import Read, stored, typed, unit_of
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.corrected import OfKind
from tooling.forms.deeds.readings import LONGEST_WORD, NumberField
from tooling.forms.measures import MeasureField
from tooling.models import Entry
from tooling.models.fields import plain
from trimfixtures.forms.deeds.points import PointsField
from trimfixtures.forms.deeds.uses import LONGEST_CUTTERS
from trimfixtures.services.deeds import did_pass
from trimfixtures.words.outcomes import GOOD, OUTCOMES

_LONGEST_POINTS = 8000


def _measure(label: Any, si: str, units: str) -> MeasureField:
    unit = unit_of(si, units)
    return MeasureField(label=label % {"unit": unit.symbol}, unit=unit)


def _stands(entry: Entry, name: str, si: str, units: str) -> str:
    """A number of the entry as it would be typed; "" where it says none."""
    stood = entry.payload.get(name)
    return typed(Decimal(stood), unit_of(si, units)) if stood else ""


def _said(entry: Entry, name: str, said: Read | None) -> Decimal | None:
    """What was typed, in SI; what was left alone as the entry has it."""
    stood = entry.payload.get(name)
    if said is None:
        return None
    if stood and said.text == typed(Decimal(stood), said.unit):
        return Decimal(stood)
    return plain(stored(said.si))


def _of_a_cut(entry: Entry, units: str) -> dict[str, forms.Field]:
    went = [("" if word == GOOD else word, one.word) for word, one in OUTCOMES.items()]
    return {
        "outcome": chips(_("How the cut went"), went),
        "cutter": words(_("Cutters, with commas between"), longest=LONGEST_CUTTERS),
        "metres": _measure(_("How far it cut in all, %(unit)s"), "m", units),
        "minutes": NumberField(label=_("Minutes it took in all")),
    }


def _cut_kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    taken = (" ".join(one.split()) for one in facts["cutter"].split(","))
    far = _said(entry, "metres", facts["metres"])
    return {**facts, "cutter": ", ".join(one for one in taken if one), "metres": far}


def _cut_stands(entry: Entry, units: str) -> dict[str, Any]:
    return {"metres": _stands(entry, "metres", "m", units)}


def _of_a_check(entry: Entry, units: str) -> dict[str, forms.Field]:
    """Whether it passed follows from the points; it is asked where none are known."""
    how = _("Points with semicolons between: bow @ 0: +0.3; stern @ 900: in; keel: out. Numbers in %(unit)s.")
    how %= {"unit": unit_of("mm", units).symbol}
    lines, day = forms.Textarea(attrs={"rows": 3}), forms.DateInput(attrs={"type": "date"})
    stood = entry.payload.get("points", "")
    asked: dict[str, forms.Field] = {
        "points": PointsField(
            stood=stood,
            units=units,
            label=_("What was found"),
            required=bool(stood),
            max_length=_LONGEST_POINTS,
            help_text=how,
            widget=lines,
        ),
        "limit_mm": _measure(_("How far off a point may be, %(unit)s"), "mm", units),
        "gauge": words(_("Held against"), longest=LONGEST_WORD),
        "instrument": words(_("Measured with"), longest=LONGEST_WORD),
        "calibrated_until": forms.DateField(label=_("Its calibration is good until"), required=False, widget=day),
    }
    passed = chips(_("Passed"), [("yes", _("yes")), ("no", _("no"))])
    return asked if stood else {"passed": passed, **asked}


def _check_stands(entry: Entry, units: str) -> dict[str, Any]:
    stood = entry.payload.get("points", "")
    points = PointsField(stood=stood, units=units).in_units(stood)
    return {"points": points, "limit_mm": _stands(entry, "limit_mm", "mm", units)}


def _check_wrong(entry: Entry, facts: Mapping[str, Any]) -> dict[str, str]:
    if not facts.get("points"):
        return {}
    try:
        did_pass(facts["points"], _said(entry, "limit_mm", facts.get("limit_mm")))
    except Refused as no:
        return {no.field: no.message}
    return {}


def _check_kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    until, limit = facts["calibrated_until"], _said(entry, "limit_mm", facts["limit_mm"])
    kept = {**facts, "calibrated_until": until.isoformat() if until is not None else None, "limit_mm": limit}
    if facts["points"]:
        kept["passed"] = "yes" if did_pass(facts["points"], limit) else "no"
    return kept


CUT = OfKind(_of_a_cut, _cut_kept, _cut_stands)
CHECK = OfKind(_of_a_check, _check_kept, _check_stands, _check_wrong)
