"""What the method for a lift asks: how far away, from where to where, how often, how turned, how gripped."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.handling import FREQUENCY
from tooling.forms.measures import MeasureField
from tooling.models import Place
from tooling.selectors.lift import Lift
from tooling.words.lift import BULKY, GRIPS, HOURS, POOR, REST, TURNED_FURTHER, TURNS, how_often
from tooling.words.measures import measure, unit_for


class LiftForm(forms.Form):
    """Asked with GET, so that an answer has an address; nothing of it is kept. Nothing is filled in beforehand."""

    def __init__(self, data: Any, of: Lift, *, system: str) -> None:
        """`of`: the lift of a tool, with the heights that are known; `system`: the units of the person."""
        self.of, self.unit = of, unit_for("height_mm", system)
        super().__init__(data)
        known = ((code, _place(one, system)) for code, one in of.heights.items())
        places = [("", _now("measured from the floor")), *known]
        self.fields["reach"] = self._length(
            _("Reach, where it is farthest"),
            _("Along the floor, from midway between the ankles to midway between the hands. Measure it on the tool."),
            required=True,
            error_messages={"required": _("Say how far away the hands are: nobody can assume that for you.")},
        )
        for end, at in (("from", _("Lifted from")), ("to", _("Put down at"))):
            self.fields[f"{end}_place"] = forms.ChoiceField(label=at, choices=places, required=False)
            self.fields[f"{end}_height"] = self._length(
                _("Hands, where it is lifted from") if end == "from" else _("Hands, where it is put down"),
                _("Above the floor; where a place is chosen, above that. On arms they grip higher than the shelf."),
                required=True,
                error_messages={"required": _("Say how high the hands grip it.")},
            )
        often = [(str(row[0]), how_often(row[0])) for row in FREQUENCY]
        self.fields["often"] = _choice(_("How often"), often, _("Say how often."))
        self.fields["hours"] = _choice(_("Such work goes on for"), HOURS, _("Say for how long."), REST)
        self.fields["turn"] = _choice(_("How far the body is turned"), TURNS, _("Say how far the body is turned."))
        self.fields["grip"] = self._grip()

    def _grip(self) -> forms.ChoiceField:
        """What is too long or too high has a poor one, whatever there is to hold on to."""
        field = _choice(_("The grip"), GRIPS.items(), _("Say how it can be gripped."), POOR)
        if self.of.lifted.is_bulky:
            field.choices, field.help_text = [("poor", GRIPS["poor"])], BULKY
        return field

    def _length(self, label: Any, help_text: Any, **more: Any) -> MeasureField:
        words = _now("%(what)s (%(unit)s)") % {"what": label, "unit": self.unit.symbol}
        return MeasureField(unit=self.unit, label=words, help_text=help_text, **more)

    def clean(self) -> dict[str, Any]:
        """Both heights, from the floor; a reach that is one."""
        data = super().clean() or {}
        reach = data.get("reach")
        if reach is not None and reach.number <= 0:
            self.add_error("reach", _now("A reach above 0: the body is in the way."))
        for end in ("from", "to"):
            if f"{end}_height" not in self.errors and f"{end}_place" not in self.errors:
                data[f"{end}_cm"] = self._height(data, end)
        return data

    def _height(self, data: Mapping[str, Any], end: str) -> float:
        place = self.of.heights.get(data[f"{end}_place"])
        below = 0.0 if place is None or place.height_mm is None else float(place.height_mm)
        return (below + float(data[f"{end}_height"].si)) / 10

    def asked(self) -> dict[str, Any]:
        """What `recommended_weight_limit` is asked with."""
        data = self.cleaned_data
        turn = data["turn"]
        return {
            "horizontal_cm": float(data["reach"].si) / 10,
            "origin_cm": data["from_cm"],
            "destination_cm": data["to_cm"],
            "asymmetry_deg": TURNED_FURTHER if turn == "further" else float(turn),
            "lifts_per_min": float(data["often"]),
            "hours": float(data["hours"]),
            "grip": data["grip"],
        }


def _choice(label: Any, choices: Any, asked: Any, helps: Any = "") -> forms.ChoiceField:
    offered = [("", _now("choose")), *choices]
    return forms.ChoiceField(label=label, choices=offered, help_text=helps, error_messages={"required": asked})


def _place(place: Place, system: str) -> str:
    """B-3: Rack B, shelf 3, 900 mm"""
    return f"{place.code}: {place.name}, {measure(place.height_mm, 'mm', system, place.as_typed.get('height_mm'))}"
