"""The fields of values that are measured in one go, and how they stand on a page."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.units import US, unit_of
from tooling.forms.deeds.base import NOT_SAID, DeedForm, chips, words
from tooling.forms.deeds.readings import LONGEST_SPOT, LONGEST_WORD, NumberField
from tooling.selectors.measured_before import Before, Instrument
from tooling.words.counting import capital
from tooling.words.readings import GLOSS, HINTS, MEASURABLE, Measurable, quantity
from tooling.words.terms import QUANTITIES, term
from tooling.words.when import day

ELSE = "else"
# Rows of an open form, and how many of them are shown at first.
ROWS, SHOWN = 8, 2
# As many instruments are offered of a quantity.
OFFERED = 4
_LONGEST_UNIT, _LONGEST_VALUE = 20, 40


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be measured, where a form asks for just that. `spots`: at how many."""

    quantity: str
    unit: str = ""
    geometry: str = ""
    spots: int = 1


class ReadingFields:
    """Adds its fields to a form, under names that begin with `prefix`, and says how they stand on the page.

    wanted: what is asked; None lets it be chosen. may_be_left: nothing has to be measured.
    """

    def __init__(
        self,
        form: DeedForm,
        before: Before,
        *,
        prefix: str = "",
        wanted: Wanted | None = None,
        may_be_left: bool = False,
    ) -> None:
        self.form, self.before, self.prefix = form, before, prefix
        self.wanted, self.may_be_left = wanted, may_be_left
        self.length = unit_of("mm", form.who.units)
        self.count = wanted.spots if wanted is not None else ROWS
        self._add("minutes", NumberField(label=_("Over how many minutes")))
        for one in self.quantities:
            self._add_of(one, MEASURABLE.get(one, Measurable()))
        if wanted is None:
            self._add_choice()
        elif not wanted.unit and wanted.quantity not in MEASURABLE:
            self._add("unit", words(_("Unit"), longest=_LONGEST_UNIT))
        self._add("instrument", words(_("Instrument"), longest=LONGEST_WORD))
        self._add("calibrated_until", self._until())
        self._add_rows()

    @cached_property
    def quantities(self) -> tuple[str, ...]:
        """Those that may be measured, by their codes."""
        return tuple(MEASURABLE) if self.wanted is None else (self.wanted.quantity,)

    def _add(self, name: str, field: forms.Field, initial: Any = None) -> None:
        self.form.fields[self.prefix + name] = field
        if initial is not None:
            self.form.initial.setdefault(self.prefix + name, initial)

    def _add_choice(self) -> None:
        offered = [(one, term(QUANTITIES, one)) for one in MEASURABLE]
        last = next(iter(self.before.last), None)
        chosen = None if self.may_be_left or last is None else last if last in MEASURABLE else ELSE
        self._add("quantity", chips(_("What was measured"), [*offered, (ELSE, _("something else"))]), chosen)
        typed = last if chosen == ELSE else None
        self._add("quantity_typed", words(_("What it is called"), longest=LONGEST_WORD), typed)
        unit = self.before.last[last].get("unit") if last is not None and typed is not None else None
        self._add("unit", words(_("Unit"), longest=_LONGEST_UNIT), unit)

    def _add_of(self, one: str, asked: Measurable) -> None:
        """What belongs to one quantity. What was said of it last on this tool is offered first."""
        last, key = self.before.last.get(one, {}), key_of(one)
        said = self.wanted.unit if self.wanted is not None else ""
        if len(asked.units) > 1 and not said:
            unit = last.get("unit") if last.get("unit") in asked.units else self._likely(asked)
            self._add(f"unit_{key}", chips(_("Unit"), [(word, word) for word in asked.units]), unit)
        if asked.geometries and (self.wanted is None or not self.wanted.geometry):
            known = last.get("geometry") if last.get("geometry") in asked.geometries else None
            self._add(f"geometry_{key}", chips(_geometry(one), [(word, word) for word in asked.geometries]), known)
        if asked.standards:
            known = last.get("standard", "") if last.get("standard", "") in asked.standards else ""
            choices = [*((word, word) for word in asked.standards), NOT_SAID]
            memory = _("The numbers of standards are from memory: the instrument’s own sheet goes first.")
            self._add(f"standard_{key}", chips(_("By which standard"), choices, help_text=memory), known)
        found = self.before.instruments.get(one, ())
        if found:
            choices = [*((each.name, self._said_of(each)) for each in found[:OFFERED]), NOT_SAID]
            self._add(f"meter_{key}", chips(_("Measured with"), choices), self._own(one))

    def _likely(self, asked: Measurable) -> str | None:
        """The unit of a reader of US units is the inch's, where there is one; a choice of scales has none."""
        if asked.most is not None:
            return None
        inches = [one for one in asked.units if "in" in one]
        return inches[0] if inches and self.form.who.units == US else asked.units[0]

    def _own(self, one: str) -> str | None:
        """What they measured it with themselves, while its calibration is good; nothing that only others used."""
        known = self.before.named(self.before.own.get(one, ""))
        return known.name if known is not None and (known.until or self.form.today) >= self.form.today else None

    def _said_of(self, one: Instrument) -> str:
        if one.until is None:
            return one.name
        said = {"name": one.name, "day": day(one.until, self.form.today)}
        if one.until < self.form.today:
            return _now("%(name)s, calibration ended on %(day)s") % said
        return _now("%(name)s, calibrated until %(day)s") % said

    def _until(self) -> forms.DateField:
        return forms.DateField(
            label=_("Its calibration is good until"),
            required=False,
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": _("Write the day as 2026-05-31.")},
        )

    def _add_rows(self) -> None:
        last = self.wanted.quantity if self.wanted is not None else next(iter(self.before.last), "")
        spots = self.before.spots.get(last, ())
        mode = "text" if self.form.who.units == US else "decimal"
        for number in range(1, self.count + 1):
            spot = spots[number - 1] if number <= len(spots) else None
            self._add(f"spot_{number}", words(_now("Spot %(n)d") % {"n": number}, longest=LONGEST_SPOT), spot)
            label = _now("Value %(n)d") % {"n": number}
            self._add(f"value_{number}", words(label, longest=_LONGEST_VALUE))
            self.form.fields[f"{self.prefix}value_{number}"].widget.attrs["inputmode"] = mode

    def _bound(self, name: str) -> forms.BoundField | None:
        return self.form[self.prefix + name] if self.prefix + name in self.form.fields else None

    @property
    def asked(self) -> dict[str, forms.BoundField | None]:
        """What is asked besides, whatever is measured; None where it is not asked."""
        names = ("quantity", "quantity_typed", "unit", "instrument", "calibrated_until")
        return {name: self._bound(name) for name in names}

    @property
    def opened(self) -> bool:
        """Whether another instrument is shown at once: none is known, or something stands there."""
        named = [one for name in ("instrument", "calibrated_until") if (one := self._bound(name)) is not None]
        return not self.before.instruments or any(one.value() or one.errors for one in named)

    @property
    def title(self) -> str:
        """What is asked, where it is not chosen: Gloss 60°, GU."""
        if self.wanted is None:
            return ""
        named = quantity({"quantity": self.wanted.quantity, "geometry": self.wanted.geometry})
        return capital(f"{named}, {self.wanted.unit}" if self.wanted.unit else named)

    @property
    def of(self) -> list[dict[str, Any]]:
        """What belongs to each quantity: its key, its fields, and the unit where that goes without saying."""
        return [self._shown(one, MEASURABLE.get(one, Measurable())) for one in self.quantities]

    def _shown(self, one: str, asked: Measurable) -> dict[str, Any]:
        names = ("geometry", "unit", "standard", "meter")
        fields = [found for name in names if (found := self._bound(f"{name}_{key_of(one)}")) is not None]
        alone = asked.units[0] if len(asked.units) == 1 else "" if asked.units else self.length.symbol
        said = self.wanted.unit if self.wanted is not None and self.wanted.unit else alone
        minutes = self._bound("minutes") if asked.minutes else None
        length = said == self.length.symbol
        return {
            "key": key_of(one),
            "fields": fields,
            "unit": said,
            "length": length,
            "minutes": minutes,
            "hint": HINTS.get(one),
        }

    @property
    def values(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Spot and value of each row."""
        prefix = self.prefix
        return [(self.form[f"{prefix}spot_{n}"], self.form[f"{prefix}value_{n}"]) for n in range(1, self.count + 1)]

    @property
    def first(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """The rows that are shown at once: those that have something in them, and two at least."""
        filled = [n for n, row in enumerate(self.values, 1) if any(one.value() or one.errors for one in row)]
        return self.values[: max([SHOWN, *filled]) if self.wanted is None else self.count]

    @property
    def more(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """The others."""
        return self.values[len(self.first) :]


def key_of(quantity: str) -> str:
    """A quantity as it stands in the name of a field."""
    return quantity.replace(" ", "_")


def _geometry(quantity: str) -> Any:
    return _("At which angle") if quantity == GLOSS else _("Which of the two")
