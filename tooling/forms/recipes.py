"""A recipe as it is typed: a further version, every column as it stands, and a new one."""

import re
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared.units import METRIC, Read, stored, typed
from tooling.forms.measures import MeasureField
from tooling.forms.told import Told
from tooling.models import RecipeVersion
from tooling.services import recipe_columns
from tooling.words import recipes as words
from tooling.words.measures import unit_for

_YES_NO = (("yes", gettext_lazy("yes")), ("no", gettext_lazy("no")))
_HELP = {
    "break_in": gettext_lazy(
        "Pulls after the first coats of a preparation, with commas between: 1, 1, 2. Empty: none."
    ),
    "accepts": gettext_lazy("Codes of other recipes whose coat may serve, with commas between."),
    "touch_up_from": gettext_lazy("A pull that came off like this or worse asks for a coat."),
    "strip_from": gettext_lazy("Like this or worse: it is stripped first."),
    "hold_from": gettext_lazy("Like this or worse: it is held until somebody has looked."),
    "film_first_pulls": gettext_lazy("A film before the first pulls of each preparation; 0: none."),
    "supplier_sheet": gettext_lazy("The supplier’s sheet, or who found these numbers, and when."),
}


_DECIMAL_COMMA = re.compile(r"-?[0-9]+,[0-9]+")


class RecipeForm(Told):
    """The columns of a recipe as they are typed; `recipe_columns` reads them, here as in a sheet."""

    def __init__(self, begins: RecipeVersion, data: Any = None, *, system: str = METRIC, **initial: Any) -> None:
        """`begins` is the version whose numbers stand in the fields, in the person's own units."""
        super().__init__(data, initial={**initial, **_typed(begins, system)})
        for column in words.COLUMNS:
            self.fields[column] = _field(column, system)
        if not begins.family:
            self.fields["family"].choices = [("", _("choose one")), *self.fields["family"].choices]

    def groups(self) -> list[tuple[str, list[forms.BoundField]]]:
        """The fields as they are grouped on the page."""
        return [(str(title), [self[column] for column in columns]) for title, columns in words.GROUPS]

    def clean(self) -> dict[str, Any]:
        """Reads the columns as a sheet would, and keeps what was sent."""
        cleaned = super().clean() or {}
        sent = {column: _sent(column, cleaned[column]) for column in words.COLUMNS if column in cleaned}
        self.values, errors = recipe_columns.read(sent)
        for column in errors.keys() & sent.keys():
            self.add_error(column, errors[column])
        return {**cleaned, **sent}

    def columns(self) -> dict[str, Any]:
        """What a service reads."""
        return {name: value for name, value in self.cleaned_data.items() if name in words.COLUMNS}


class VersionForm(RecipeForm):
    """A further version of a recipe."""

    # The version that was on the screen: a change of it meanwhile must not be lost.
    after = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, current: RecipeVersion, data: Any = None, *, system: str = METRIC) -> None:
        """`current` is the version in force."""
        super().__init__(current, data, system=system, after=current.pk)
        self.current = current

    def clean(self) -> dict[str, Any]:
        """Refuses a version that changes nothing or another than was on the screen."""
        cleaned = super().clean()
        if "after" in cleaned and cleaned["after"] != self.current.pk:
            self.add_error(None, _("The recipe was changed meanwhile. Open the page anew and look at it first."))
        elif not self.errors and all(getattr(self.current, name) == value for name, value in self.values.items()):
            self.add_error(None, _("Nothing is changed yet."))
        return cleaned


class NewRecipeForm(RecipeForm):
    """A recipe of the shop's own, with the code that it is known by."""

    code = forms.CharField(
        label=gettext_lazy("Code"),
        max_length=16,
        help_text=gettext_lazy("Short, as it is written on tins and tapes: WAX-2. It stays."),
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}),
    )


def _sent(column: str, said: Any) -> Any:
    """What `recipe_columns` reads: a temperature in the unit that it is stored in, and 1,5 as 1.5.

    A comma is that of a number only where one number is typed; elsewhere it stands between several.
    """
    if isinstance(said, Read):
        return str(stored(said.si))
    text = "" if said is None else said
    number = column != "supplier_sheet" and _keyboard(column) and _DECIMAL_COMMA.fullmatch(text.strip())
    return text.replace(",", ".") if number else text


def _typed(version: RecipeVersion, system: str) -> dict[str, Any]:
    """The values of a version as they would be typed."""
    values = {column: getattr(version, column) for column in words.COLUMNS}
    warm = {column: values[column] for column in values if column.endswith("_c") and values[column] is not None}
    values.update({column: typed(degrees, unit_for(column, system)) for column, degrees in warm.items()})
    return {**values, "film_every_pull": "yes" if version.film_every_pull else "no"}


def _field(column: str, system: str) -> forms.Field:
    field = RecipeVersion._meta.get_field(column)
    label, unit = words.label(column), words.unit(column)
    if column.endswith("_c"):
        unit = unit_for(column, system).symbol
    if unit and unit not in label:
        label = _("%(label)s, in %(unit)s") % {"label": label, "unit": unit}
    given: dict[str, Any] = {
        "label": label,
        "help_text": _HELP.get(column, ""),
        "required": not (field.null or field.blank),
    }
    choices = _YES_NO if column == "film_every_pull" else field.choices
    if choices:
        return forms.ChoiceField(choices=choices, **given)
    if field.null and not given["help_text"]:
        given["help_text"] = _("Empty: %(meaning)s.") % {"meaning": words.value(column, None)}
    if column.endswith("_c"):
        return MeasureField(unit=unit_for(column, system), below_zero=True, **given)
    widget = (
        forms.Textarea(attrs={"rows": 2}) if column == "supplier_sheet" else forms.TextInput(attrs=_keyboard(column))
    )
    return forms.CharField(widget=widget, max_length=2000, **given)


def _keyboard(column: str) -> dict[str, str]:
    """Which keys a phone shows."""
    if column in ("name", "accepts", "break_in"):
        return {}
    return {"inputmode": "decimal" if words.unit(column) in ("minutes", "hours") else "numeric"}
