"""The shop's temperature, and why a measurement was none."""

from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import Read
from tooling.forms.deeds.base import DeedForm
from tooling.forms.deeds.undo import VoidForm
from tooling.forms.measures import MeasureField
from tooling.words.measures import unit_for


class TemperatureForm(DeedForm):
    """What the thermometer says, in the person's own unit."""

    TIME_WANTED = _("At what time was it measured?")
    field_order = ("token", "by", "value")

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        unit = unit_for("value_c", self.who.units)
        wanted = _now("How many %(unit)s does the thermometer show?") % {"unit": unit.symbol}
        self.fields["value"] = MeasureField(
            label=_("Shop temperature"), unit=unit, below_zero=True, required=True, error_messages={"required": wanted}
        )
        self.unit = unit.symbol
        self.order_fields(self.field_order)

    def facts(self) -> Read:
        """What was read."""
        return self.cleaned_data["value"]


class StrikeForm(VoidForm):
    """Why it was wrong."""

    LEFT_OUT = (*VoidForm.LEFT_OUT, "by")
