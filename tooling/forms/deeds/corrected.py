"""Facts that a correction asks otherwise than an entry keeps them: a number with its unit, a mold by its code."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared import clock
from shared.units import UNITS
from tooling.calc.defect_lines import CLOSED, DefectLine, read_defects, write_defects
from tooling.forms.deeds import loans
from tooling.forms.deeds.base import NOT_SAID, chips, words
from tooling.forms.deeds.readings import LONGEST_SPOT, LONGEST_WORD, NumberField
from tooling.forms.deeds.work import WRITTEN_AS, StandsField, stands
from tooling.models import Entry, ReleaseSystem, Shop, Tool
from tooling.selectors import scans
from tooling.selectors.defects import defects_of
from tooling.services.deeds.loan_rules import wrong_with
from tooling.services.deeds.surface import filler
from tooling.services.making_steps import LONGEST_NAME
from tooling.words import limits
from tooling.words.terms import CLEANED_WITH, METHODS, RELEASE_TESTS, WORKS

LONGEST_DESIGN, LONGEST_REVISION = 120, 40


@dataclass(frozen=True, slots=True)
class OfKind:
    """What a correction asks of a kind of entry that another app writes, by the names under which the entry keeps it.

    fields: for somebody who reads in these units. initial: what stands in them that the entry keeps otherwise.
    kept: facts as the entry keeps them. wrong: what cannot be of what was sent, by field.
    """

    fields: Callable[[Entry, str], dict[str, forms.Field]]
    kept: Callable[[Entry, dict[str, Any]], dict[str, Any]]
    initial: Callable[[Entry, str], dict[str, Any]]
    wrong: Callable[[Entry, Mapping[str, Any]], dict[str, str]] | None = None


_of_others: dict[str, OfKind] = {}


def register(kind: str, asked: OfKind) -> None:
    """Adds what is asked of a kind."""
    _of_others[kind] = asked


class ToolCodeField(forms.CharField):
    """A tool by its code, an older one, or its tag."""

    def clean(self, value: Any) -> Tool | None:  # type: ignore[override]
        text = super().clean(value)
        tool = scans.tool(text) if text else None
        if text and tool is None:
            raise ValidationError(_now("No tool has the code %(code)s.") % {"code": scans.code_on(text)[:40]})
        return tool


def fields(entry: Entry, units: str) -> dict[str, forms.Field]:
    """What is asked of an entry of this kind besides the facts that it keeps as they are asked."""
    other = _of_others.get(entry.kind)
    if other is not None:
        return other.fields(entry, units)
    return _FIELDS[entry.kind](entry) if entry.kind in _FIELDS else {}


def initial(entry: Entry, units: str) -> dict[str, Any]:
    """What stands in those fields."""
    known = entry.payload
    found = {"using": known.get("instrument", ""), "mold": entry.mold.code if entry.mold else ""}
    if entry.kind == "repair":
        found["stands"] = known.get("value", "")
    other = _of_others.get(entry.kind)
    return found | other.initial(entry, units) if other is not None else found


def wrong(entry: Entry, facts: Mapping[str, Any]) -> dict[str, str]:
    """What cannot be as it was sent, by field."""
    if entry.kind == "lent":
        lent_on = facts["when"].astimezone(Shop.current().zone).date()
        return wrong_with(facts["person"], facts["until"], lent_on)
    if entry.kind == "reading" and not facts["unit"].strip():
        return {"unit": _now("Say in which unit: a number without one says nothing.")}
    other = _of_others.get(entry.kind)
    return other.wrong(entry, facts) if other is not None and other.wrong is not None else {}


def kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    """The facts as the entry keeps them; a number that was left alone stays as it was written."""
    if "using" in facts:
        facts["instrument"] = facts.pop("using")
    if entry.kind == "lent":
        facts = loans.kept(facts)
    if "closes" in facts:
        facts["defects"] = _defects(entry, facts.pop("closes"))
    if entry.kind == "reading" and facts.get("calibrated_until"):
        facts["calibrated_until"] = facts["calibrated_until"].isoformat()
    if "stands" in facts:
        said = stands(facts.pop("stands"))
        facts |= filler(said.get("stands"), said.get("unit", ""))
    other = _of_others.get(entry.kind)
    if other is not None:
        facts = other.kept(entry, facts)
    for name, said in facts.items():
        if isinstance(said, Decimal):
            facts[name] = _as_written(said, entry.payload.get(name))
    return facts


def _as_written(number: Decimal, stood: str | None) -> str:
    return stood if stood is not None and Decimal(stood) == number else f"{number:f}"


def _using(entry: Entry) -> dict[str, forms.Field]:
    """Water or soap stays cleaning: with something else it was another kind of deed."""
    cleaned = [(word, said) for word, said in CLEANED_WITH.items() if WRITTEN_AS[word] == entry.kind]
    return {"using": chips(_("With what?"), [NOT_SAID, *cleaned])}


def _test(entry: Entry) -> dict[str, forms.Field]:
    return {"using": chips(_("Which test"), [NOT_SAID, *RELEASE_TESTS.items()])}


def _stands(entry: Entry) -> dict[str, forms.Field]:
    """In the unit in which it was said; a number of something else, which a sheet may have brought, is left alone."""
    known = limits.stands(entry.payload)
    if known is None and "value" in entry.payload:
        return {}
    unit = UNITS[known[1][1]] if known is not None else limits.CELSIUS
    return {"stands": StandsField(unit=unit)}


def _mold(entry: Entry) -> dict[str, forms.Field]:
    return {"mold": ToolCodeField(label=_("Into which mold?"), max_length=200)}


def _recipe(entry: Entry) -> dict[str, forms.Field]:
    codes = ReleaseSystem.objects.order_by("code").values_list("code", flat=True)
    return {"release_system": forms.ChoiceField(label=_("Recipe from now on"), choices=[(one, one) for one in codes])}


def _reading(entry: Entry) -> dict[str, forms.Field]:
    day = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    return {
        "quantity": words(_("What was measured"), longest=LONGEST_WORD),
        "geometry": words(_("Angle, or Ra or Rz"), longest=LONGEST_SPOT),
        "spot": words(_("Where"), longest=LONGEST_SPOT),
        "value": NumberField(label=_("Value"), required=True, below_zero=True),
        "unit": words(_("Unit"), longest=20),
        "minutes": NumberField(label=_("Over how many minutes")),
        "standard": words(_("By which standard"), longest=LONGEST_SPOT),
        "instrument": words(_("Instrument"), longest=LONGEST_WORD),
        "calibrated_until": forms.DateField(label=_("Its calibration is good until"), required=False, widget=day),
    }


def _repair(entry: Entry) -> dict[str, forms.Field]:
    return {**_mended(entry), **_stands(entry)}


def _polish(entry: Entry) -> dict[str, forms.Field]:
    return {**_mended(entry), **_using(entry)}


def _mended(entry: Entry) -> dict[str, forms.Field]:
    """How and with what; a word that a sheet brought stays among those that are offered."""
    stood = entry.payload.get("method", "")
    other = [(stood, stood)] if stood and stood not in METHODS else []
    return {
        **_closes(entry),
        "method": chips(_("How"), [NOT_SAID, *METHODS.items(), *other]),
        "material": words(_("Material"), longest=LONGEST_WORD),
    }


def _closes(entry: Entry) -> dict[str, forms.Field]:
    """Which defects it closed: those that it says, and those that are open."""
    closed = closed_by(entry)
    offered = [one for one in defects_of(entry.tool, clock.now()) if one.is_open or one.number in closed]
    if not offered:
        return {}
    choices = [(one.number, f"{one.number}: {one.kind}") for one in offered]
    field = forms.TypedMultipleChoiceField(
        label=_("Which defects it mended"), choices=choices, coerce=int, required=False, initial=closed,
        widget=forms.CheckboxSelectMultiple,
    )  # fmt: skip
    return {"closes": field}


def closed_by(entry: Entry) -> list[int]:
    """The defects that an entry says are closed, by their numbers."""
    return [one.number for one in read_defects(entry.payload.get("defects", "")) if one.did == CLOSED]


def _defects(entry: Entry, closes: list[int]) -> str:
    """The lines of an entry where it closes these: what else it says of defects stays as it stands."""
    lines = read_defects(entry.payload.get("defects", ""))
    stays = [one for one in lines if one.did != CLOSED or one.number in closes]
    new = sorted(set(closes) - {one.number for one in lines})
    return write_defects([*stays, *(DefectLine(number, CLOSED) for number in new)])


def _making(entry: Entry) -> dict[str, forms.Field]:
    """Its step and what was done there. An entry that came in without a step may stay so."""
    return {
        "step": words(_("Step"), longest=LONGEST_NAME),
        "work": chips(_("What was done"), [NOT_SAID, *WORKS.items()]),
        "grit": words(_("Grit, where it was sanded"), longest=LONGEST_WORD),
        "material": words(_("Material"), longest=LONGEST_WORD),
        "value": NumberField(label=_("How much of it")),
        "unit": words(_("Unit"), longest=20),
        "minutes": NumberField(label=_("Minutes of work")),
    }


def _accepted(entry: Entry) -> dict[str, forms.Field]:
    return {
        "design_ref": words(_("Design"), longest=LONGEST_DESIGN),
        "design_revision": words(_("Its revision"), longest=LONGEST_REVISION),
    }


_FIELDS = {
    "accepted": _accepted,
    "making": _making,
    "clean": _using,
    "strip": _using,
    "polish": _polish,
    "resurfaced": _mended,
    "release_check": _test,
    "repair": _repair,
    "installed": _mold,
    "release_system": _recipe,
    "lent": loans.fields,
    "reading": _reading,
}
