"""What a correction asks of the defects that an entry speaks of: what each is, its size and its words."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from shared.units import stored, typed
from tooling.calc.defect_lines import FOUND, DefectLine, read_defects, write_defects
from tooling.forms.deeds import corrected
from tooling.forms.deeds.base import chips, words
from tooling.forms.deeds.defects import LONGEST_WORDS, SizeField
from tooling.models import Entry
from tooling.words.measures import unit_for
from tooling.words.terms import DEFECTS


def make_known() -> None:
    """For what is written of defects alone; of other kinds the lines go along as they are."""
    for kind in ("note", "hold"):
        corrected.register(kind, corrected.OfKind(_fields, _kept, _initial))


def _lines(entry: Entry) -> tuple[DefectLine, ...]:
    return read_defects(entry.payload.get("defects") or "")


def _asked(entry: Entry) -> Iterator[tuple[str, DefectLine]]:
    for line in _lines(entry):
        yield f"defect_{line.number}", line


def _fields(entry: Entry, units: str) -> dict[str, forms.Field]:
    found: dict[str, forms.Field] = {}
    unit = unit_for("size_mm", units).symbol
    for name, line in _asked(entry):
        said = {"number": line.number, "unit": unit}
        if line.did == FOUND:
            found[f"{name}_kind"] = chips(
                _("Defect %(number)d: what is it?") % said, list(DEFECTS.items()), required=True
            )
        found[f"{name}_size"] = SizeField(units=units, label=_("Defect %(number)d: how long it is (%(unit)s)") % said)
        found[f"{name}_words"] = words(_("Defect %(number)d, in words") % said, longest=LONGEST_WORDS)
    return found


def _initial(entry: Entry, units: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    unit = unit_for("size_mm", units)
    for name, line in _asked(entry):
        size = typed(line.size_mm, unit) if line.size_mm is not None else ""
        found |= {f"{name}_kind": line.kind, f"{name}_size": size, f"{name}_words": line.words}
    return found


def _kept(entry: Entry, facts: dict[str, Any]) -> dict[str, Any]:
    """A size that was left alone stays as it was written."""
    lines = []
    for name, line in _asked(entry):
        read, kind = facts.pop(f"{name}_size"), facts.pop(f"{name}_kind", line.kind)
        size = stored(read.si) if read is not None else None
        if read is not None and line.size_mm is not None and read.text == typed(line.size_mm, read.unit):
            size = line.size_mm
        said = " ".join(facts.pop(f"{name}_words").split())
        lines.append(replace(line, kind=kind, size_mm=size, words=said))
    return {**facts, "defects": write_defects(lines)} if lines else facts
