"""A tool that is put somewhere: what speaks against it, and what is said when it is there."""

from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.lines import part_in
from tooling.words.measures import measure
from tooling.words.when import when


def over_limit(over: Any, system: str) -> str:
    """What the place would carry, what it may carry, and how much of that nobody has weighed."""
    said = {
        "place": over.place.name,
        "then": measure(over.kg_then, "kg", system),
        "limit": measure(over.limit_kg, "kg", system),
    }
    text = _("%(place)s would carry %(then)s, and %(limit)s is its limit.") % said
    if over.unweighed:
        more = ngettext(
            "%(n)d tool there has no mass yet.", "%(n)d tools there have no mass yet.", over.unweighed
        )  # fmt: skip
        text = f"{text} {more % {'n': over.unweighed}}"
    return text


def part_cures(summary: Any, kind: str, earliest: datetime | None, now: datetime, zone: tzinfo) -> str:
    """A part lies in what would be carried, until when it stays in as far as somebody set a time; what that does."""
    if earliest is None:
        head = _("By its history a part is in it.")
    elif earliest <= now:
        head = _("By its history a part is in it, and its time is up.")
    else:
        head = _("By its history a part is in it, not to come off before %(time)s.") % {
            "time": when(earliest, now, zone)
        }
    carried = _(
        "Carried, it may slip or come loose, and its mass is not in the number: leave it until it is hard as its "
        "supplier’s sheet says."
    )
    return " ".join(filter(None, (head, part_in(summary, kind), carried)))


def half_stays(code: str, place: str) -> str:
    """The other half of a matched set that has the same part in it, and is not put there with it."""
    said = {"code": code, "place": place}
    if not place:
        return _("%(code)s has the same part in it, and is not moved with it.") % said
    return _("%(code)s has the same part in it, and stays where it is: %(place)s.") % said


def is_there(tool: Any, place: Any, loan: Any) -> str:
    """That it is there now; that its home is elsewhere; that it is handed back with this."""
    home = tool.summary.home
    said = [_("%(tool)s is at %(place)s now.") % {"tool": tool.code, "place": place.name}]
    if home is not None and home.pk != place.pk:
        said.append(_("Its home is %(place)s.") % {"place": home.name})
    if loan is not None:
        said.append(handed_back_with_it(loan.payload.get("person", "")))
    return " ".join(said)


def handed_back_with_it(person: str) -> str:
    """It was lent until it was seen here."""
    return (
        _("It was lent to %(person)s: this hands it back.") % {"person": person}
        if person
        else _("It was lent: this hands it back.")
    )
