"""One measured value."""

from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import MOST, Read, Unit, stored
from tooling.forms.deeds.base import DeedForm, chips, words
from tooling.forms.measures import MeasureField
from tooling.models.fields import plain
from tooling.words.terms import QUANTITIES

VACUUM_DROP = "vacuum drop"
# What is offered under the field; any other may be typed.
UNITS = ("mbar", "kPa", "inHg", "GU", "Shore D", "Barcol", "mm", "°C")
_BARE = Unit("", "")
LONGEST_WORD = 80


class NumberField(MeasureField):
    """A number whose unit stands in a field of its own."""

    def __init__(self, **more: Any) -> None:
        super().__init__(unit=_BARE, **more)

    def clean(self, value: Any) -> Decimal | None:  # type: ignore[override]
        said: Read | None = super().clean(value)
        if said is None:
            return None
        if abs(said.number) > MOST:
            raise ValidationError(_now("That is more than the program can hold."))
        return plain(stored(said.number))


class ReadingForm(DeedForm):
    """What was measured, the number with its unit, with what, and over how long."""

    quantity = chips(_("What was measured"), [*QUANTITIES.items(), ("", _("something else"))], initial=VACUUM_DROP)
    quantity_typed = words(_("What it is called"), longest=LONGEST_WORD)
    value = NumberField(
        label=_("Value"), required=True, below_zero=True, error_messages={"required": _("Write what it read.")}
    )
    unit = words(_("Unit"), longest=20, initial="mbar")
    minutes = NumberField(
        label=_("Over how many minutes"), help_text=_("For a drop: from when to when it was watched.")
    )
    instrument = words(_("Instrument"), longest=LONGEST_WORD)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["unit"].widget.attrs["list"] = "units"

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        data["quantity"] = data.get("quantity") or data.get("quantity_typed", "").strip()
        if not data["quantity"] and not {"quantity", "quantity_typed"} & self.errors.keys():
            self.add_error("quantity_typed", _now("Say what was measured."))
        if data["quantity"] == VACUUM_DROP:
            self._check_drop(data)
        return data

    def _check_drop(self, data: dict[str, Any]) -> None:
        """A drop says nothing without its unit and the minutes it took."""
        if not data.get("unit") and "unit" not in self.errors:
            self.add_error("unit", _now("Say in which unit: mbar, kPa or inHg."))
        if not data.get("minutes") and "minutes" not in self.errors:
            self.add_error("minutes", _now("Say over how many minutes it dropped."))

    def facts(self) -> dict[str, Any]:
        """What the entry says of it."""
        return {name: self.cleaned_data[name] for name in ("quantity", "value", "unit", "minutes", "instrument")}
