"""What a line of a checklist cannot say: for the list that a lead keeps, and for the sheet."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

LONGEST = {"words": 200, "quantity": 80, "unit": 20, "geometry": 40}
# More than anybody goes through at one tool; and more spots than anybody measures.
MOST_ITEMS, MOST_SPOTS = 40, 20


def wrong_with(item: Mapping[str, Any]) -> dict[str, str]:
    """By column what is wrong with a line: a value is asked in a unit, and only where it is said what is measured."""
    wrong: dict[str, str] = {}
    if not item["words"]:
        wrong["words"] = _("Say what is looked at, or take the line out.")
    if item["quantity"] and not item["unit"]:
        wrong["unit"] = _("Say in which unit: a number without one says nothing.")
    if not item["quantity"] and (item["unit"] or item["geometry"]):
        wrong["quantity"] = _("Say what is measured in that unit, or leave unit and geometry empty.")
    if not 1 <= item["spots"] <= MOST_SPOTS:
        wrong["spots"] = _("It is measured at 1 to %(most)d spots.") % {"most": MOST_SPOTS}
    elif item["spots"] > 1 and not item["quantity"]:
        wrong["spots"] = _("Say what is measured at so many spots.")
    return wrong
