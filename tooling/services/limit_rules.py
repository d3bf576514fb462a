"""What cannot be said of a limit of readings, for the service and the sheet."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from shared.units import MOST
from tooling.models import Kind, Worse
from tooling.models.reading_keys import value_in_si

LONGEST = {"quantity": 80, "unit": 20, "geometry": 40, "note": 200}


def wrong_with(says: Mapping[str, Any]) -> dict[str, str]:
    """By column what is wrong with it. says: the columns of a row; those that lack are not looked at."""
    wrong = {}
    for column, longest in LONGEST.items():
        text = says.get(column) or ""
        if len(text) > longest or "\x00" in text:
            wrong[column] = _("That is longer than the program can hold, or no plain text.")
    if "quantity" in says and not says["quantity"]:
        wrong["quantity"] = _("Say what is measured.")
    if "unit" in says and not says["unit"]:
        wrong["unit"] = _("Say in which unit: a number alone is no limit.")
    if says.get("kind") not in (None, *Kind.values):
        wrong["kind"] = _("Say for which kind of tool.")
    if "worse" in says and says["worse"] not in Worse.values:
        wrong["worse"] = _("Say which way is worse, up or down.")
    if "limit" in says:
        value = None if says["limit"] is None else value_in_si(says["limit"], says.get("unit") or "")
        if value is None:
            wrong["limit"] = _("Write the limit as a number.")
        elif abs(value) > MOST:
            wrong["limit"] = _("That is more than the program can hold.")
    return wrong
