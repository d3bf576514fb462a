"""The columns of a recipe as a person reads them: in groups, each with its unit, empty said as what it means."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from shared.units import METRIC
from tooling.models import RecipeVersion
from tooling.words.counting import capital
from tooling.words.measures import measure, si_of

# In the order in which a person thinks of them.
GROUPS = (
    (gettext_lazy("What it is"), ("name", "family", "supplier_sheet")),
    (
        gettext_lazy("Coats"),
        ("sealer_coats", "coats_new", "coats_again", "touch_up_coats", "coat_gap_minutes", "longest_gap_hours",
         "cure_hours_preparation", "cure_hours_touch_up", "accepts"),
    ),
    (
        gettext_lazy("Pulls"),
        ("pulls_between", "break_in", "break_in_on", "max_touch_ups", "max_pulls_per_preparation"),
    ),
    (gettext_lazy("Idle days, and age"), ("max_idle_days", "strip_after_idle_days", "max_coat_age_days")),
    (gettext_lazy("Film"), ("film_every_pull", "film_first_pulls", "film_dry_minutes", "film_good_hours")),
    (gettext_lazy("When it comes off hard"), ("touch_up_from", "strip_from", "hold_from")),
    (
        gettext_lazy("For planning"),
        ("coat_minutes", "wipe_minutes", "film_minutes", "strip_minutes", "low_c", "reference_c", "high_c",
         "max_part_cure_c"),
    ),
)  # fmt: skip
COLUMNS = tuple(column for _title, columns in GROUPS for column in columns)
NUMBERS = [column for column in COLUMNS if column not in ("name", "family", "supplier_sheet")]

# What an empty cell of each column means.
_NO_LIMIT = frozenset(
    {"max_touch_ups", "max_pulls_per_preparation", "max_idle_days", "strip_after_idle_days", "max_coat_age_days",
     "longest_gap_hours", "film_good_hours"}
)  # fmt: skip


def label(column: str) -> str:
    """What a column is called."""
    name = str(RecipeVersion._meta.get_field(column).verbose_name)
    return capital(name)


def unit(column: str) -> str:
    """What its number counts, where it is not plain from its name."""
    if column.endswith("_minutes"):
        return _("minutes")
    if column.endswith("_hours") or column.startswith("cure_hours"):
        return _("hours")
    if column.endswith("_days"):
        return _("days")
    return "°C" if column.endswith("_c") else ""


def value(column: str, given: Any, system: str = METRIC) -> str:
    """What a column says, in words, a temperature in the units of the reader."""
    field = RecipeVersion._meta.get_field(column)
    if given in (None, ""):
        return _empty(column)
    if isinstance(given, bool):
        return _("yes") if given else _("no")
    if field.choices:
        return str(dict(field.choices).get(given, given))
    if column == "break_in":
        return _("%(pulls)s pulls, one coat after the other") % {"pulls": given.replace(",", ", ")}
    if isinstance(given, int | Decimal):
        return _with_unit(column, given, system)
    return str(given).replace(",", ", ") if column == "accepts" else str(given)


def _empty(column: str) -> str:
    if column in _NO_LIMIT:
        return _("no limit")
    return {"break_in": _("no break-in"), "accepts": _("no other recipe")}.get(column, _("not said"))


def _with_unit(column: str, number: int | Decimal, system: str) -> str:
    if column.endswith("_c"):
        return str(measure(Decimal(number), si_of(column), system))
    if column.endswith("_minutes"):
        return _count(number, ngettext("%(n)s minute", "%(n)s minutes", _plural(number)))
    if unit(column) == _("hours"):
        return _count(number, ngettext("%(n)s hour", "%(n)s hours", _plural(number)))
    if column.endswith("_days"):
        return _count(number, ngettext("%(n)s day", "%(n)s days", _plural(number)))
    return f"{number} {unit(column)}".strip()


def _count(number: int | Decimal, text: str) -> str:
    return text % {"n": number}


def _plural(number: int | Decimal) -> int:
    """The number by which a language picks its form; half an hour is hours."""
    return int(number) if number == int(number) else 2
