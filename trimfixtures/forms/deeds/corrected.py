"""What a correction asks of a cut and of a check, and how an entry keeps it."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from shared.errors import Refused
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.corrected import OfKind
from tooling.forms.deeds.readings import LONGEST_WORD, NumberField
from tooling.models import Entry
from trimfixtures.calc.points import read_points, write_points
from trimfixtures.calc.refusal import Refusal
from trimfixtures.forms.deeds.uses import LONGEST_CUTTERS
from trimfixtures.services.deeds import did_pass
from trimfixtures.words.outcomes import GOOD, OUTCOMES
from trimfixtures.words.refusals import refused

_LONGEST_POINTS = 8000


class _PointsField(forms.CharField):
    """What was found where, as the sheet of the history has it."""

    def clean(self, value: Any) -> str:
        text = super().clean(value)
        try:
            return write_points(read_points(text))
        except Refusal as refusal:
            raise ValidationError(refused(refusal)) from refusal


def _of_a_cut(entry: Entry) -> dict[str, forms.Field]:
    went = [("" if word == GOOD else word, one.word) for word, one in OUTCOMES.items()]
    return {
        "outcome": chips(_("How the cut went"), went),
        "cutter": words(_("Cutters, with commas between"), longest=LONGEST_CUTTERS),
        "metres": NumberField(label=_("Metres cut in all")),
        "minutes": NumberField(label=_("Minutes it took in all")),
    }


def _cut_kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    taken = (" ".join(one.split()) for one in facts["cutter"].split(","))
    return {**facts, "cutter": ", ".join(one for one in taken if one)}


def _of_a_check(entry: Entry) -> dict[str, forms.Field]:
    """Whether it passed follows from the points; it is asked where none are known."""
    how = _("Points with semicolons between: bow @ 0: +0.3; stern @ 900: in; keel: out. Numbers in mm.")
    lines, day = forms.Textarea(attrs={"rows": 3}), forms.DateInput(attrs={"type": "date"})
    known = bool(entry.payload.get("points"))
    asked: dict[str, forms.Field] = {
        "points": _PointsField(
            label=_("What was found"), required=known, max_length=_LONGEST_POINTS, help_text=how, widget=lines
        ),
        "limit_mm": NumberField(label=_("How far off a point may be, mm")),
        "gauge": words(_("Held against"), longest=LONGEST_WORD),
        "instrument": words(_("Measured with"), longest=LONGEST_WORD),
        "calibrated_until": forms.DateField(label=_("Its calibration is good until"), required=False, widget=day),
    }
    passed = chips(_("Passed"), [("yes", _("yes")), ("no", _("no"))])
    return asked if known else {"passed": passed, **asked}


def _check_wrong(facts: Mapping[str, Any]) -> dict[str, str]:
    if not facts.get("points"):
        return {}
    try:
        did_pass(facts["points"], facts.get("limit_mm"))
    except Refused as no:
        return {no.field: no.message}
    return {}


def _check_kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    until = facts["calibrated_until"]
    kept = {**facts, "calibrated_until": until.isoformat() if until is not None else None}
    if facts["points"]:
        kept["passed"] = "yes" if did_pass(facts["points"], facts["limit_mm"]) else "no"
    return kept


CUT = OfKind(_of_a_cut, _cut_kept)
CHECK = OfKind(_of_a_check, _check_kept, _check_wrong)
