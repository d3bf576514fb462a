"""What the forms of the catalogue share: the columns of a row as they stand, to be changed in one's own units."""

from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.forms.measures import MeasureField
from tooling.models import Place, ReleaseSystem, Tool
from tooling.models.fields import NumberField
from tooling.selectors import scans
from tooling.words.measures import to_type, unit_for

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


class CatalogueForm(forms.Form):
    """Some columns of a row. Only what was changed is handed on, so that nobody's change is undone unseen."""

    COLUMNS: ClassVar[Sequence[str]] = ()
    HELP: ClassVar[Mapping[str, Any]] = {}

    # What stood on the screen: a change of it meanwhile must not be lost.
    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, row: models.Model, data: Any = None, *, system: str) -> None:
        """`row` may be new; `system`: the units of the person."""
        self.row = row
        initial = {column: _as_it_stands(row, column, system) for column in self.columns()}
        self.stood = sha256(repr(sorted(initial.items())).encode()).hexdigest()[:16]
        super().__init__(data, initial={**initial, "seen": self.stood})
        for column in self.columns():
            self.fields[column] = _field(row._meta.get_field(column), system, self.HELP.get(column, ""))

    def columns(self) -> Sequence[str]:
        """The columns that are asked."""
        return self.COLUMNS

    def changes(self) -> dict[str, Any]:
        """The columns that were changed, by name."""
        return {name: self.cleaned_data[name] for name in self.changed_data if name in self.columns()}

    def clean(self) -> dict[str, Any]:
        """Refuses a change of a row that somebody else changed since it was on the screen."""
        data = super().clean() or {}
        if not self.errors and data.get("seen") != self.stood and self.changes():
            self.add_error(None, _("This was changed meanwhile. Open the page anew and look at it first."))
        return data

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


def _field(field: models.Field, system: str, help_text: Any) -> forms.Field:
    """The form's field for a column of the model."""
    label = str(field.verbose_name)
    given: dict[str, Any] = {"label": label[:1].upper() + label[1:], "help_text": help_text}
    if isinstance(field, NumberField):
        unit = unit_for(field.name, system)
        if unit.symbol:
            given["label"] = _("%(label)s, in %(unit)s") % {"label": given["label"], "unit": unit.symbol}
        return MeasureField(unit=unit, below_zero=field.name.endswith("_c"), **given)
    if isinstance(field, models.ForeignKey):
        return _choice(field, given)
    if isinstance(field, models.DateField):
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        return forms.DateField(required=False, widget=widget, **given)
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
