"""A cutter or guide bushing: a new one, one that a lead changes, and what any hand says of one."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import stored
from tooling.forms.catalogue import CatalogueForm
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.models import Person
from tooling.words.sizes import closely
from trimfixtures.models import Cutter, CutterState
from trimfixtures.words.cutters import off

_FIRST = ("kind", "nominal_mm", "measured_mm")
_FOLDED = ("fresh_on", "look_after_m", "state", "note")
MEASURED = "measured_mm"
# The program's own number.
_LITTLE_MM = Decimal("0.5")


class SizeForm(CatalogueForm):
    """What measures otherwise than it is meant to, by more than a cutter wears or is ground, is asked once."""

    # What was asked about, as it comes back where somebody means it.
    asked = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, row: Cutter, data: Any = None, *, system: str) -> None:
        super().__init__(row, data, system=system)
        self.system = system

    def clean(self) -> dict[str, Any]:
        """Asks at the measured size."""
        data = super().clean()
        sizes = [name for name in (MEASURED, "nominal_mm") if name in self.columns()]
        measured, meant = self._mm(MEASURED, data), self._mm("nominal_mm", data)
        if not any(map(self._is_changed, sizes)) or not measured or not meant or abs(measured - meant) <= _LITTLE_MM:
            return data
        about = f"{measured} {meant}"
        if data.get("asked") != about:
            self.data = self.data.copy()
            self.data[self.add_prefix("asked")] = about
            text = _now("%(measured)s is %(off)s: it is meant to be %(meant)s. If that is so, keep it once more.")
            said = {"measured": closely(measured, self.system), "meant": closely(meant, self.system)}
            self.add_error(MEASURED, text % {**said, "off": off(measured - meant, self.system)})
        return data

    def _mm(self, column: str, data: Mapping[str, Any]) -> Decimal | None:
        """As it was typed, else as it stands; None where none is known, or it cannot be read."""
        if column not in self.columns():
            return getattr(self.row, column)
        said = data.get(column)
        return stored(said.si) if said is not None else None


class CutterForm(SizeForm):
    """What a lead changes of one. Its code stays: histories name it."""

    COLUMNS = (*_FIRST, *_FOLDED)
    HELP = {
        "code": _("1 to 16 of the letters A to Z, digits, hyphen and full stop, as it stands on it or on its box."),
        "nominal_mm": _("As it was bought. Of a guide bushing: what runs along the trim mask, outside."),
        "measured_mm": _("With a caliper, over the edges. Empty: nobody has measured it."),
        "fresh_on": _("Metres cut are counted from this day on. Empty: from the beginning."),
        "look_after_m": _("The shop’s own number: no published one is known for glass and carbon. Empty: never asked."),
    }

    def whose(self, column: str) -> str:
        """Whoever changed it last."""
        last = self.row.changes.filter(field=column).select_related("who").first()
        return last.who.name if last is not None else ""

    @property
    def first(self) -> list[forms.BoundField]:
        """What is asked at once."""
        return [self[name] for name in self.columns() if name not in _FOLDED]

    @property
    def folded(self) -> list[forms.BoundField]:
        """What a new one can do without."""
        return [self[name] for name in _FOLDED]

    @property
    def is_folded(self) -> bool:
        """Whether the rest may stay folded: nothing stands in it, and nothing of it is wrong."""
        plain = {"", None, CutterState.HERE}
        return all(field.value() in plain and not field.errors for field in self.folded)


class NewCutterForm(CutterForm):
    """One that is not there yet."""

    COLUMNS = ("code", *CutterForm.COLUMNS)


class HandForm(SizeForm):
    """What any hand says of one: that it is here, worn or gone, and what it measures."""

    COLUMNS = (MEASURED,)
    HELP = {MEASURED: _("With a caliper, over the edges.")}

    by = PersonField(label=_("Whose hands?"), queryset=Person.objects.none())

    def __init__(self, row: Cutter, data: Any = None, *, who: Person, now: datetime) -> None:
        # A row of the list has nothing but its buttons.
        self.asks_size = data is None or MEASURED in data
        super().__init__(row, data, system=who.units)
        self.who = who
        ask_hands(self, who, at=now)
        if "by" in self.fields and not who.is_station:
            del self.fields["by"]  # a lead who taps is the one who looked

    def columns(self) -> Sequence[str]:
        """The size, where the page asks for it."""
        return self.COLUMNS if self.asks_size else ()

    @property
    def hands(self) -> Person:
        """Whose hands it was."""
        return self.cleaned_data.get("by") or self.who
