"""What cannot be said of a loan: for the deed, its form, and a correction."""

from datetime import date

from django.utils.translation import gettext as _

from tooling.words.when import plain_day


def wrong_with(person: str, until: date | None, lent_on: date) -> dict[str, str]:
    """What is wrong, by field. lent_on: the day of the loan in the shop."""
    wrong = {}
    if not person.strip():
        wrong["person"] = _("To whom is it lent? Write a name, or tap one.")
    if until is not None and until < lent_on:
        said = {"until": plain_day(until), "lent": plain_day(lent_on)}
        wrong["until"] = _("%(until)s is before the day on which it is lent (%(lent)s). Check the day.") % said
    return wrong
