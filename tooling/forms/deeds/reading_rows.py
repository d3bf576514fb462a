"""Values that were measured in one go, a spot a row: a piece that any form of a deed may hold, more than once.

    self.measured = ReadingRows(self, measured_before(tool, now))     # in __init__, after that of the form
    self.measured.clean()                                             # in clean, after that of the form
    self.measured.facts()                                             # what services.deeds.take_readings writes

Its template is `tooling/deeds/_readings.html`, given `rows`, beside it `face/readings.css`.
"""

from collections.abc import Mapping
from datetime import tzinfo
from decimal import Decimal
from statistics import median
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared.units import METRIC, MOST, US, Unit, stored, unit_of
from tooling.calc.calibration import is_calibration_over
from tooling.forms.deeds.reading_fields import ELSE, SHOWN, ReadingFields, Wanted, key_of
from tooling.forms.measures import MeasureField
from tooling.models.fields import plain
from tooling.words.readings import DEPTH, DIMENSION, GLOSS, HARDNESS, MEASURABLE, Measurable
from tooling.words.terms import QUANTITIES, term
from tooling.words.when import day

__all__ = ["ReadingRows", "Wanted"]
_BARE = Unit("", "")
# A number of these says nothing without what it was measured on.
_OF_WHAT = (DEPTH, DIMENSION)
# More gloss than a polished gel coat shows (from memory), and how far off the others one value may lie unasked.
_MOST_GLOSS, _FAR = 120, 2


class ReadingRows(ReadingFields):
    """Says what its fields mean. `facts`: what was measured, one value each; empty where nothing was."""

    _facts: list[dict[str, Any]]

    def clean(self) -> None:
        """Says at its fields what is wrong, and keeps what was measured."""
        self._facts = []
        typed = {n: self._said(f"value_{n}") for n in range(1, self.count + 1)}
        typed = {n: text for n, text in typed.items() if text}
        if not typed:
            if not self.may_be_left and not self._is_wrong("value_1"):
                self._refuse("value_1", _("Write what it read."))
            return
        about = self._about()
        for n, text in typed.items():
            if self._lacks_spot(n, about["quantity"]):
                self._refuse(f"spot_{n}", _("Say which one, or where: without it, it is compared with another."))
            try:
                number, unit = self._read(text, about)
            except ValidationError as wrong:
                self._refuse(f"value_{n}", wrong.messages[0])
            else:
                self._facts.append({**about, "value": number, "unit": unit, "spot": self._said(f"spot_{n}")})

    def _lacks_spot(self, n: int, quantity: str) -> bool:
        spot = f"spot_{n}"
        wanted = self.wanted is None and quantity in _OF_WHAT
        return wanted and not self._said(spot) and not self._is_wrong(spot)

    def _about(self) -> dict[str, Any]:
        """What all of the values share. What is missing is said at its field."""
        one = self._quantity()
        asked, key = MEASURABLE.get(one, Measurable()), key_of(one)
        geometry = self.wanted.geometry if self.wanted is not None else ""
        geometry = geometry or self._said(f"geometry_{key}")
        if asked.geometries and not geometry and not self._is_wrong(f"geometry_{key}"):
            self._refuse(f"geometry_{key}", _which(one, asked.geometries))
        minutes = self.form.cleaned_data.get(f"{self.prefix}minutes") if asked.minutes else None
        if one in MEASURABLE and asked.minutes and not minutes and not self._is_wrong("minutes"):
            self._refuse("minutes", _("Say over how many minutes it dropped."))
        return {
            "quantity": one,
            "unit": self._unit(one, asked),
            "geometry": geometry,
            "standard": self._said(f"standard_{key}"),
            "minutes": minutes,
            **self._instrument(key),
        }

    def _quantity(self) -> str:
        if self.wanted is not None:
            return self.wanted.quantity
        chosen = self._said("quantity")
        if chosen and chosen != ELSE:
            return chosen
        named = self._said("quantity_typed")
        at = "quantity_typed" if chosen == ELSE else "quantity"
        if not (chosen and named) and not self._is_wrong("quantity") and not self._is_wrong(at):
            self._refuse(at, _("Say what was measured."))
        return next((one for one in MEASURABLE if one == named.casefold()), named)

    def _unit(self, one: str, asked: Measurable) -> str:
        """None is refused, for every quantity: a number without one says nothing."""
        if self.wanted is not None and self.wanted.unit:
            return self.wanted.unit
        if one in MEASURABLE and len(asked.units) < 2:
            return asked.units[0] if asked.units else self.length.symbol
        name = f"unit_{key_of(one)}" if asked.units else "unit"
        unit = self._said(name)
        if not unit and not self._is_wrong(name) and not self._is_wrong("quantity"):
            offered = ", ".join(asked.units)
            text = _("Say in which unit: %(units)s.") % {"units": offered} if offered else _("Say in which unit.")
            self._refuse(name, text)
        return unit

    def _instrument(self, key: str) -> dict[str, Any]:
        typed, until = self._said("instrument"), self.form.cleaned_data.get(f"{self.prefix}calibrated_until")
        name = typed or self._said(f"meter_{key}")
        known = self.before.named(name) if name else None
        return {"instrument": name, "calibrated_until": until or (known.until if known is not None else None)}

    def _read(self, text: str, about: Mapping[str, Any]) -> tuple[Decimal, str]:
        """A number in the unit that is asked; a length may name another."""
        asked = MEASURABLE.get(about["quantity"])
        is_length = about["unit"] in ("mm", "in")
        unit = unit_of("mm", US if about["unit"] == "in" else METRIC) if is_length else _BARE
        below_zero = asked is None or asked.minutes
        said = MeasureField(unit=unit, below_zero=below_zero).clean(text if is_length else _alone(text, about["unit"]))
        if said is None or abs(said.number) > MOST:
            raise ValidationError(_("That is more than the program can hold."))
        if asked is not None and asked.most is not None and said.number > asked.most:
            ends = {"scale": about["unit"] or about["quantity"], "most": asked.most}
            raise ValidationError(_("%(scale)s ends at %(most)d: check the number.") % ends)
        return plain(stored(said.number)), said.unit.symbol if is_length else about["unit"]

    def _said(self, name: str) -> str:
        return str(self.form.cleaned_data.get(self.prefix + name) or "").strip()

    def _is_wrong(self, name: str) -> bool:
        return self.prefix + name in self.form.errors

    def _refuse(self, name: str, text: str) -> None:
        field = self.prefix + name
        self.form.add_error(field if field in self.form.fields else None, text)

    def facts(self) -> list[dict[str, Any]]:
        """What was measured, one value each, as `take_readings` takes it; empty where nothing was."""
        return self._facts

    def doubts(self) -> list[str]:
        """Numbers that look like a slip of typing, a sentence each. Call it after `clean`."""
        found = []
        values = [one["value"] for one in self._facts]
        middle = median(values) if len(values) > SHOWN else None
        for one in self._facts:
            said = {"value": f"{one['value']:f} {one['unit']}"}
            if one["quantity"] == GLOSS and one["value"] > _MOST_GLOSS:
                text = _(
                    "%(value)s is more than a polished gel coat shows (from memory: about 100 GU). Check the number."
                )
                found.append(text % said)
            elif middle and one["quantity"] in (GLOSS, HARDNESS) and not middle / _FAR <= one["value"] <= middle * _FAR:
                found.append(_("%(value)s is far off the other values. Check the number.") % said)
        return found

    @property
    def flagged(self) -> str:
        """That the calibration of what measured was over; "" where it was good, or nobody has said."""
        at = self.form.cleaned_data.get("at") or self.form.now
        over = next((one for one in self._facts if is_calibration_over(one["calibrated_until"], at, self._zone)), None)
        if over is None:
            return ""
        said = {"instrument": over["instrument"] or _("the instrument")}
        said |= {"day": day(over["calibrated_until"], self.form.today)}
        text = _("The calibration of %(instrument)s ended on %(day)s. It is written all the same, and flagged.")
        return text % said

    @property
    def _zone(self) -> tzinfo:
        return self.form.shop.zone


def _alone(text: str, unit: str) -> str:
    """The number, where the unit that goes without saying was written behind it."""
    return text[: -len(unit)].rstrip() if unit and text.casefold().endswith(unit.casefold()) else text


def _which(quantity: str, offered: tuple[str, ...]) -> str:
    said = {"what": term(QUANTITIES, quantity), "ways": ", ".join(offered)}
    return _("Say which %(what)s it is: %(ways)s.") % said
