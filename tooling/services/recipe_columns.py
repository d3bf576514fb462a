"""The columns of a recipe: how a cell, of a sheet or of a form, is understood. The only home of these rules.

A column that is not given has its default, that of the model. An empty cell means none where the column can be
without (a limit, break_in, accepts, a text), else the default.
"""

from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext as _

from tooling.models import RecipeVersion, check_code, tidy_code
from tooling.models.fields import plain
from tooling.models.recipes import COUNTS_FROM_NONE, COUNTS_FROM_ONE, PLANNING, TIMES, BreakInOn, CameOff, Family
from tooling.services.sheets.cells import folded

Reader = Callable[[Any], Any]

# Beyond use, and small enough that a board can draw each pull and a calendar can reckon each wait.
MOST_COATS, MOST_PULLS, MOST_DAYS = 100, 500, 36_500
_YEAR_OF_HOURS, _YEAR_OF_MINUTES, _WEEK_OF_MINUTES = 8_760, 525_600, 10_080
_MOST = 1_000_000  # of anything else
_COATS = frozenset({"sealer_coats", "coats_new", "coats_again", "touch_up_coats"})
_DAYS = frozenset({"max_idle_days", "strip_after_idle_days", "max_coat_age_days"})
TEMPERATURES = ("low_c", "reference_c", "high_c", "max_part_cure_c")
_YES_NO = {"yes": True, "no": False}


def read(cells: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, str]]:
    """The values of a RecipeVersion and, by column, what is wrong; keys that are no column of it are left alone.

    Cells hold text, numbers, yes or no, or nothing. The times and the code of a row are its caller's to read.
    """
    values: dict[str, Any] = {}
    errors: dict[str, str] = {}
    for column, reader in COLUMNS.items():
        cell = cells.get(column)
        if isinstance(cell, str):
            cell = cell.strip()
        try:
            if column in cells and cell not in (None, ""):
                values[column] = reader(cell)
            else:
                values[column] = _without(column, given=column in cells)
        except ValidationError as wrong:
            errors[column] = " ".join(wrong.messages)
    return values, errors


def _without(column: str, given: bool) -> Any:
    """What an empty cell means, or a column that is not there."""
    field = _field(column)
    if not field.has_default():
        if field.null:
            return None
        raise ValidationError(_("Write the %(column)s.") % {"column": column})
    if given and field.null:
        return None
    return "" if given and field.blank else field.get_default()


def _field(column: str) -> "models.Field[Any, Any]":
    field = RecipeVersion._meta.get_field(column)
    assert isinstance(field, models.Field), f"{column} is no column of its own"
    return field


def _number(cell: Any) -> Decimal:
    try:
        number = Decimal(str(cell)) if not isinstance(cell, bool) else Decimal("NaN")
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite():
        raise ValidationError(_("“%(cell)s” is no number.") % {"cell": cell})
    if abs(number) > _MOST:
        raise ValidationError(_("%(cell)s is more than the program can hold.") % {"cell": cell})
    # a third of an hour from a spreadsheet has sixteen digits; a millionth is near enough
    return plain(number.quantize(Decimal("0.000001")))


def _whole(least: int, most: int) -> Reader:
    def reader(cell: Any) -> int:
        number = _number(cell)
        if number != number.to_integral_value() or not least <= number <= most:
            message = _("A whole number from %(least)d to %(most)d, not “%(cell)s”.")
            raise ValidationError(message % {"least": least, "most": most, "cell": cell})
        return int(number)

    return reader


def _count(column: str, least: int) -> Reader:
    return _whole(least, MOST_COATS if column in _COATS else MOST_DAYS if column in _DAYS else MOST_PULLS)


def _time(column: str) -> Reader:
    most = _WEEK_OF_MINUTES if column in PLANNING else _YEAR_OF_HOURS if "hours" in column else _YEAR_OF_MINUTES

    def reader(cell: Any) -> Decimal:
        number = _number(cell)
        if not 0 <= number <= most:
            message = _("A number from 0 to %(most)d (%(long)s), not “%(cell)s”.")
            long = _("a week") if column in PLANNING else _("a year")
            raise ValidationError(message % {"most": most, "long": long, "cell": cell})
        return number

    return reader


def _word(*words: str) -> Reader:
    def reader(cell: Any) -> str:
        word = folded(str(cell))
        if word not in words:
            choices = ", ".join(words)
            raise ValidationError(_("One of %(words)s, not “%(cell)s”.") % {"words": choices, "cell": cell})
        return word

    return reader


def _yes_no(cell: Any) -> bool:
    # a spreadsheet has a yes and no of its own
    return cell if isinstance(cell, bool) else _YES_NO[_word(*_YES_NO)(cell)]


def _pulls(cell: Any) -> str:
    whole, pieces = _whole(1, MOST_PULLS), str(cell).split(",")
    if len(pieces) > MOST_COATS:
        raise ValidationError(_("At most %(most)d numbers.") % {"most": MOST_COATS})
    return ",".join(str(whole(pulls.strip())) for pulls in pieces)


def _codes(cell: Any) -> str:
    codes = [tidy_code(code) for code in str(cell).split(",") if code.strip()]
    for code in codes:
        check_code(code)
    return ",".join(dict.fromkeys(codes))


def _text(cell: Any) -> str:
    return str(cell)


def _name(cell: Any) -> str:
    name = " ".join(str(cell).split())
    longest = _field("name").max_length
    if longest and len(name) > longest:
        raise ValidationError(_("At most %(longest)d characters.") % {"longest": longest})
    return name


COLUMNS: dict[str, Reader] = {
    "name": _name,
    "family": _word(*Family.values),
    **{column: _count(column, 1) for column in COUNTS_FROM_ONE},
    **{column: _count(column, 0) for column in COUNTS_FROM_NONE},
    **{column: _time(column) for column in TIMES},
    **dict.fromkeys(TEMPERATURES, _number),
    "break_in": _pulls,
    "break_in_on": _word(*BreakInOn.values),
    "film_every_pull": _yes_no,
    **dict.fromkeys(("touch_up_from", "strip_from", "hold_from"), _word(*CameOff.values)),
    "accepts": _codes,
    "supplier_sheet": _text,
}
