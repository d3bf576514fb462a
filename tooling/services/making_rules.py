"""What cannot be said of the steps of a kind, and of what was done at one: for the pages, the sheets and the ledger."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.check import Refusal
from tooling.calc.entry import WORKS
from tooling.models import BY_ENTRY, Kind
from tooling.services import entry_rules
from tooling.services.refusals import refused

# A trim mask has no release surface: nothing is coated, laid up or pulled on it.
_OF_ANY_KIND = frozenset({"reading"})


def may_be_logged_as(kind: str) -> tuple[str, ...]:
    """The entries that a step of a kind may be logged as."""
    return BY_ENTRY if kind in Kind.WITH_SURFACE else tuple(one for one in BY_ENTRY if one in _OF_ANY_KIND)


def wrong_with(values: Mapping[str, Any]) -> dict[str, str]:
    """What a step cannot say, by column; empty where it can."""
    by_entry, kind = values.get("by_entry") or "", values.get("kind") or ""
    if by_entry and kind and by_entry not in may_be_logged_as(kind):
        return {"by_entry": _("A trim mask has no release surface: such a step is not logged on it.")}
    return {}


def make_known() -> None:
    """Gives the ledger and the sheet of the history what an entry `making` cannot say."""
    entry_rules.register("making", ("work",), _of_work)
    entry_rules.register("making", ("value", "unit", "material"), _of_material)
    entry_rules.register("making", ("minutes",), _of_minutes)
    entry_rules.register("making", ("grit", "work"), _of_grit)


def _of_work(facts: Mapping[str, Any]) -> dict[str, str]:
    work = facts.get("work")
    if not work or work in WORKS:
        return {}
    return {"work": _("There is no such work: one of %(words)s.") % {"words": ", ".join(WORKS)}}


def _of_material(facts: Mapping[str, Any]) -> dict[str, str]:
    """How much of it went in: a number above zero, of something, in a unit."""
    much = facts.get("value")
    if much is None:
        return {}
    if Decimal(much) <= 0:
        return {"value": _("%(number)s is not above zero.") % {"number": much}}
    if not str(facts.get("material") or "").strip():
        return {"material": _("Say of which material that much was used.")}
    if not str(facts.get("unit") or "").strip():
        return {"unit": _("Say in which unit: kg, l or sheets.")}
    return {}


def _of_minutes(facts: Mapping[str, Any]) -> dict[str, str]:
    minutes = facts.get("minutes")
    if minutes is None or Decimal(minutes) >= 0:
        return {}
    return {"minutes": refused(Refusal("below_zero", "minutes", number=minutes)).message}


def _of_grit(facts: Mapping[str, Any]) -> dict[str, str]:
    if facts.get("grit") and facts.get("work") not in ("sanding", None, ""):
        return {"grit": _("A grit is of sanding: say that it was sanded, or leave the grit out.")}
    return {}
