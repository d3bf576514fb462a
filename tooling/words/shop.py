"""The settings of the shop as a person reads them: what each is called, and what it says."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from tooling.models.shop_hours import days_of, to_days
from tooling.words.week import to_text

LABELS = {
    "name": gettext_lazy("Name of the shop"),
    "time_zone": gettext_lazy("Time zone"),
    "week": gettext_lazy("Shop hours"),
    "closed_days": gettext_lazy("Closed days"),
    "hands": gettext_lazy("Hands"),
    "formal_records": gettext_lazy("Formal records"),
    "retention_years": gettext_lazy("Years to keep"),
    "backup_days": gettext_lazy("Days between backups"),
}


def day_in_words(day: date) -> str:
    """Thu 24 December 2026"""
    return in_format(day, _("D j F Y"))


def value(column: str, given: Any) -> str:
    """What a setting says."""
    if column == "week":
        return to_text(to_days(given)) or _("not said")
    if column == "closed_days":
        return ", ".join(day_in_words(day) for day in days_of(given)) or _("none")
    if column == "formal_records":
        return _("yes") if given else _("no")
    if column == "retention_years":
        return _("for good") if given is None else ngettext("%(n)d year", "%(n)d years", given) % {"n": given}
    if column == "backup_days":
        return ngettext("%(n)d day", "%(n)d days", given) % {"n": given} if given else _("never asked for")
    return _("not said") if given in (None, "") else str(given)


def formal(on: bool, making: int, barred: Sequence[object] = ()) -> list[str]:
    """What it changes that formal records are turned on, or off.

    making: how many tools are in the making. barred: which held tools nobody could free then.
    """
    if not on:
        return [
            _("Who held a tool may free it again; it stays flagged."),
            _("An acceptance asks for nothing, and what was brought back waits for none any more."),
            _("What was written stays as it is. Turned on again, they hold from that moment on."),
        ]
    waits = ngettext(
        "A tool that is built here is accepted with its evidence: %(n)d is in the making now.",
        "A tool that is built here is accepted with its evidence: %(n)d are in the making now.",
        making,
    )
    text = _("Nobody could free %(tools)s today: who may has stopped them. Give somebody else the right to free.")
    return [
        _("Who held a tool cannot free it: another person looks at it. A look that did not pass holds it as well."),
        *([text % {"tools": ", ".join(map(str, barred))}] if barred else []),
        waits % {"n": making},
        _("Evidence is the checklist of its kind where there is one, a picture, the design with its revision, words."),
        _("A tool that is reinstated from now on is accepted again before its use. What is in use stays in use."),
        _("Rights that were given to people are asked: who may accept, free, approve."),
    ]


def worked_out_anew(tools: int) -> str:
    """What another zone means for the tools."""
    text = ngettext(
        "Days begin at another hour: %(n)d tool is worked out anew.",
        "Days begin at another hour: %(n)d tools are worked out anew.",
        tools,
    )
    return text % {"n": tools}
