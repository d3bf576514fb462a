"""The open defects of a tool in the form of a deed: how each is now, or which of them the work closed."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import Read, stored
from tooling.calc.defect_lines import CLOSED, LARGEST_MM, SEEN, DefectLine
from tooling.forms.deeds.base import chips, words
from tooling.forms.measures import MeasureField
from tooling.selectors.defects import DefectNow
from tooling.words import defects as said
from tooling.words.measures import unit_for

LONGEST_WORDS = 300


class SizeField(MeasureField):
    """How long a defect is, at its longest."""

    def __init__(self, *, units: str, **more: Any) -> None:
        unit = unit_for("size_mm", units)
        label = _now("How long it is (%(unit)s)") % {"unit": unit.symbol}
        super().__init__(unit=unit, **{"label": label, **more})

    def clean(self, value: Any) -> Read | None:  # type: ignore[override]
        read = super().clean(value)
        if read is not None and not 0 < read.si <= LARGEST_MM:
            raise forms.ValidationError(_now("Above 0 and at most 30 m: check the number."))
        return read


def millimetres(read: Read | None) -> Decimal | None:
    """What was typed, as a line of an entry has it."""
    return None if read is None else stored(read.si)


def in_one(*parts: Any) -> str:
    """Words of chips and typed ones as one line."""
    return ", ".join(filter(None, (" ".join(str(part).split()) for part in parts)))


@dataclass(frozen=True, slots=True)
class ToSee:
    """One open defect with what is asked of it."""

    defect: DefectNow
    said: str
    how: BoundField
    size: BoundField
    words: BoundField

    @property
    def opened(self) -> bool:
        """Whether size and words are shown at once: something of them was typed, or is wrong."""
        return any(field.value() or field.errors for field in (self.size, self.words))


class DefectsSeen(forms.Form):
    """How each open defect is now; each may be left. Put it before the form of the deed, and hand over `defects`."""

    def __init__(self, *args: Any, defects: Sequence[DefectNow] = (), **more: Any) -> None:
        super().__init__(*args, **more)
        self.open_defects = tuple(defects)
        units = self.who.units  # type: ignore[attr-defined]
        for one in self.open_defects:
            self.fields[f"defect_{one.number}"] = chips(said.named(one, units), list(said.SEEN.items()))
            self.fields[f"defect_{one.number}_size"] = SizeField(units=units)
            self.fields[f"defect_{one.number}_words"] = words(_("In words"), longest=LONGEST_WORDS)

    def clean(self) -> dict[str, Any]:
        """Who measured a defect or said something of it has looked at it, and says how it is."""
        data = super().clean() or self.cleaned_data
        for one in self.open_defects:
            name = f"defect_{one.number}"
            if (
                name not in self.errors
                and not data.get(name)
                and (data.get(f"{name}_size") or data.get(f"{name}_words"))
            ):
                self.add_error(name, _now("Say how it is now."))
        return data

    @property
    def defects_to_see(self) -> list[ToSee]:
        """What `_defects_to_see.html` shows."""
        units = self.who.units  # type: ignore[attr-defined]
        names = ((one, f"defect_{one.number}") for one in self.open_defects)
        return [
            ToSee(one, said.named(one, units), self[name], self[f"{name}_size"], self[f"{name}_words"])
            for one, name in names
        ]

    def lines(self) -> list[DefectLine]:
        """What was said of those that somebody said something of."""
        data, found = self.cleaned_data, []
        for one in self.open_defects:
            name = f"defect_{one.number}"
            how = data[name]
            if not how:
                continue
            told = in_one(said.SEEN[how], data[f"{name}_words"])
            did = CLOSED if how == said.GONE else SEEN
            found.append(DefectLine(one.number, did, size_mm=millimetres(data[f"{name}_size"]), words=told))
        return found


class CloseDefects(forms.Form):
    """Which open defects the work closed. Put it before the form of the deed, and hand over `defects`."""

    closes = forms.TypedMultipleChoiceField(
        label=_("Which defects this mends"),
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": _("One of these defects is mended or gone already. Choose again.")},
    )

    def __init__(self, *args: Any, defects: Sequence[DefectNow] = (), **more: Any) -> None:
        super().__init__(*args, **more)
        units = self.who.units  # type: ignore[attr-defined]
        self.open_defects = tuple(defects)
        self.fields["closes"].choices = [(one.number, said.named(one, units)) for one in self.open_defects]

    def lines(self) -> list[DefectLine]:
        """Those that were ticked, closed."""
        return [DefectLine(number, CLOSED) for number in self.cleaned_data["closes"]]
