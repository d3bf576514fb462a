"""What cannot be said of a loan: for the deed, its form, and a correction; its day for the ledger and the sheet too."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Shop
from tooling.services import entry_rules
from tooling.words.when import plain_day


def make_known() -> None:
    """Gives the ledger and the sheet of the history what a loan cannot say. An old list may not know to whom."""
    entry_rules.register("lent", ("at", "until"), _of_the_day)


def wrong_with(person: str, until: date | None, lent_on: date) -> dict[str, str]:
    """What is wrong, by field. lent_on: the day of the loan in the shop."""
    wrong = {}
    if not person.strip():
        wrong["person"] = _("To whom is it lent? Write a name, or tap one.")
    if until is not None and until < lent_on:
        said = {"until": plain_day(until), "lent": plain_day(lent_on)}
        wrong["until"] = _("%(until)s is before the day on which it is lent (%(lent)s). Check the day.") % said
    return wrong


def _of_the_day(facts: Mapping[str, Any]) -> dict[str, str]:
    """Of what was written down before there was a rule, an export stays as it is: its rows say when that was."""
    until = facts.get("until")
    if not until or facts.get("recorded_at") is not None:
        return {}
    day = until if isinstance(until, date) else date.fromisoformat(until)
    return wrong_with("-", day, facts["at"].astimezone(Shop.current().zone).date())
