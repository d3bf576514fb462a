"""What the forms of the catalogue share: the columns of a row as they stand, to be changed in one's own units."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.forms import screens
from tooling.forms.measures import MeasureField
from tooling.models import Place, ReleaseSystem, Tool
from tooling.models.fields import NumberField
from tooling.selectors import scans
from tooling.services.times import day_in_bounds
from tooling.words.counting import capital
from tooling.words.measures import stands_behind, to_type, unit_for

LONG_TEXT = 4000


class PlaceField(forms.ModelChoiceField):
    """A place, by code and name."""

    def label_from_instance(self, place: Place) -> str:
        """RACK-B · Rack B"""
        return f"{place.code} · {place.name}"


class ToolField(forms.CharField):
    """A tool by its code, typed or scanned; its clean value is the tool, or None."""

    def clean(self, value: Any) -> Tool | None:  # type: ignore[override]
        """The tool of that code or older code."""
        text = super().clean(value)
        found = scans.tool(text) if text else None
        if text and found is None:
            raise ValidationError(_("There is no tool %(code)s.") % {"code": scans.code_on(text)})
        return found


class DayField(forms.DateField):
    """A day that somebody can have meant: within the bounds of a sheet."""

    def clean(self, value: Any) -> date | None:
        """The day, or None for nothing typed."""
        day: date | None = super().clean(value)
        try:
            return day if day is None else day_in_bounds(day)
        except Refused as refused:
            raise ValidationError(refused.message) from refused


class CatalogueForm(forms.Form):
    """Some columns of a row. Only what was changed is handed on, so that nobody's change is undone unseen.

    The form carries what stood on the screen (`seen`). What somebody else changed meanwhile stays as it is now where
    this person left it alone; where both changed the same, both are said and it is asked once.
    """

    COLUMNS: ClassVar[Sequence[str]] = ()
    HELP: ClassVar[Mapping[str, Any]] = {}

    seen = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, row: models.Model, data: Any = None, *, system: str) -> None:
        """`row` may be new; `system`: the units of the person."""
        self.row = row
        self.stands = {column: _as_it_stands(row, column, system) for column in self.columns()}
        super().__init__(data, initial={**self.stands, "seen": screens.packed(self.stands)})
        for column in self.columns():
            help_text = self.HELP.get(column, "")
            self.fields[column] = _field(row._meta.get_field(column), system, help_text)
            if behind := _behind(row, column, system):
                about = _("About. Written down as %(stored)s, which stays if you leave this.") % {"stored": behind}
                self.fields[column].help_text = f"{about} {help_text}".rstrip()
        self.meanwhile: list[str] = []

    def columns(self) -> Sequence[str]:
        """The columns that are asked."""
        return self.COLUMNS

    def changes(self) -> dict[str, Any]:
        """The columns that were changed, by name."""
        return {name: self.cleaned_data[name] for name in self.columns() if self._is_changed(name)}

    def _is_changed(self, column: str) -> bool:
        return screens.differs(self.fields[column], self.initial.get(column), self[column].data)

    def whose(self, column: str) -> str:
        """Who changed a column last, where that is kept."""
        return ""

    def clean(self) -> dict[str, Any]:
        """Takes in what somebody else changed since the form was on the screen; asks where both changed the same."""
        data = super().clean() or {}
        if self.row.pk is not None:
            self._take_in_what_others_did(data)
        return data

    def _take_in_what_others_did(self, data: dict[str, Any]) -> None:
        before = screens.unpacked(data.get("seen", ""))
        self.data = self.data.copy()
        for column in self.columns():
            field, now, typed = self.fields[column], self.stands[column], self[column].data
            was = before.get(column, screens.NOT_SEEN)
            if screens.differs(field, was, now) and screens.differs(field, typed, now):
                self._meanwhile(column, mine=screens.differs(field, was, typed))
        self.data[self.add_prefix("seen")] = self.initial["seen"]

    def _meanwhile(self, column: str, *, mine: bool) -> None:
        """Somebody else changed a column. `mine`: so did this person, and is asked; else theirs stays."""
        field, now = self.fields[column], self.stands[column]
        who = self.whose(column) or _("Somebody else")
        said = {"who": who, "now": screens.in_words(field, now), "label": field.label}
        if mine:
            asked = _("%(who)s made this “%(now)s” meanwhile. To put what you typed in its place, keep it again.")
            self.add_error(column, asked % said)
            return
        screens.put(self.data, self.add_prefix(column), now)
        self[column].help_text = _("%(who)s changed this meanwhile.") % said
        self.meanwhile.append(_("%(who)s changed “%(label)s” meanwhile: that stays.") % said)

    def told(self, refused: Refused | ValidationError) -> None:
        """What a service refused becomes a message at its field, or at the top of the form."""
        if isinstance(refused, Refused):
            self.add_error(refused.field if refused.field in self.fields else None, refused.message)
            return
        for field, messages in _by_field(refused).items():
            self.add_error(field if field in self.fields else None, messages)


def _by_field(refused: ValidationError) -> dict[str, list[str]]:
    return refused.message_dict if hasattr(refused, "error_dict") else {"": refused.messages}


def _as_it_stands(row: models.Model, column: str, system: str) -> Any:
    field = row._meta.get_field(column)
    if isinstance(field, NumberField):
        return to_type(row, column, system)
    value = getattr(row, field.attname) if isinstance(field, models.ForeignKey) else getattr(row, column)
    if isinstance(field, models.ForeignKey) and field.related_model is Tool:
        return getattr(row, column).code if value is not None else ""
    return "" if value is None else value


def _behind(row: models.Model, column: str, system: str) -> str:
    """The number that a rounded one stands for."""
    return stands_behind(row, column, system) if isinstance(row._meta.get_field(column), NumberField) else ""


def _field(field: models.Field, system: str, help_text: Any) -> forms.Field:
    """The form's field for a column of the model."""
    label = str(field.verbose_name)
    given: dict[str, Any] = {"label": capital(label), "help_text": help_text}
    if isinstance(field, NumberField):
        unit = unit_for(field.name, system)
        if unit.symbol:
            name = {"in": _("inches"), "°": _("degrees")}.get(unit.symbol, unit.symbol)
            given["label"] = _("%(label)s, in %(unit)s") % {"label": given["label"], "unit": name}
        return MeasureField(unit=unit, below_zero=field.name.endswith("_c"), **given)
    if isinstance(field, models.ForeignKey):
        return _choice(field, given)
    if isinstance(field, models.DateField):
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        return DayField(required=False, widget=widget, **given)
    if isinstance(field, models.TextField):
        return forms.CharField(required=False, max_length=LONG_TEXT, widget=forms.Textarea(attrs={"rows": 2}), **given)
    if field.choices:
        empty = [("", _("not said") if field.blank else _("choose one"))]
        choices = field.get_choices(include_blank=True, blank_choice=empty)
        return forms.ChoiceField(choices=choices, required=not field.blank, **given)
    return field.formfield(**given)


def _choice(field: models.ForeignKey, given: dict[str, Any]) -> forms.Field:
    if field.related_model is Tool:
        return ToolField(required=False, max_length=200, **given)
    if field.related_model is Place:
        return PlaceField(Place.objects.order_by("code"), required=False, empty_label=_("none"), **given)
    return forms.ModelChoiceField(
        ReleaseSystem.objects.order_by("code"), required=False, empty_label=_("none"), **given
    )
