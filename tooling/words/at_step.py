"""What was done at a step of the making, in words."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.counting import capital
from tooling.words.terms import WORKS, term
from tooling.words.took import amount

# What is counted in coats; skins are counted as such, anything else as so many times.
_IN_COATS = frozenset({"filler", "primer", "gel_coat"})


def worked(facts: Mapping[str, Any], count: int | None, units: str) -> Iterator[str]:
    """Short sentences: the work and how often, how much of which material, the grit."""
    work = str(facts.get("work") or "")
    said = [*((term(WORKS, work),) if work else ()), *((_times(work, count),) if count else ())]
    if said:
        yield capital(f"{', '.join(said)}.")
    if facts.get("material"):
        yield capital(f"{_material(facts, units)}.")
    if facts.get("grit"):
        yield _("Grit %(grit)s.") % {"grit": facts["grit"]}


def _times(work: str, count: int) -> str:
    if work in _IN_COATS:
        return ngettext("%(n)d coat", "%(n)d coats", count) % {"n": count}
    if work == "skin":
        return ngettext("%(n)d skin", "%(n)d skins", count) % {"n": count}
    return ngettext("%(n)d time", "%(n)d times", count) % {"n": count}


def _material(facts: Mapping[str, Any], units: str) -> str:
    if facts.get("value") in (None, ""):
        return str(facts["material"])
    said = {"amount": amount(Decimal(facts["value"]), facts.get("unit") or "", units), "material": facts["material"]}
    return _("%(amount)s of %(material)s") % said
