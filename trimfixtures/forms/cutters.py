"""A cutter or guide bushing: a new one, one that a lead changes, and what any hand says of one."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import CatalogueForm
from tooling.forms.deeds.hands import PersonField, ask_hands
from tooling.models import Person
from trimfixtures.models import Cutter, CutterState

_FIRST = ("kind", "nominal_mm", "measured_mm")
_FOLDED = ("fresh_on", "look_after_m", "state", "note")
MEASURED = "measured_mm"


class CutterForm(CatalogueForm):
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


class HandForm(CatalogueForm):
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
