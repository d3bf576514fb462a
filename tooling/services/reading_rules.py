"""What a reading cannot say: for the ledger, and so every form, and for the sheet of the history."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from tooling.services import entry_rules


def make_known() -> None:
    """Gives it to the ledger and the sheet. A unit is wanted where somebody measures (`deeds.take_reading`)."""
    entry_rules.register("reading", ("minutes",), _of_minutes)


def _of_minutes(facts: Mapping[str, Any]) -> dict[str, str]:
    """Over a time that is none nothing drops."""
    minutes = facts.get("minutes")
    if minutes is None or Decimal(minutes) > 0:
        return {}
    return {"minutes": _("%(number)s is not above zero.") % {"number": minutes}}
