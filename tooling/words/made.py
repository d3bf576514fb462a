"""What a tool made, in words: a line a part, and how many there were in all."""

from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from tooling.words.serials import came_off
from tooling.words.when import moment


@dataclass(frozen=True, slots=True)
class Line:
    """One part: when it was laid up and by whom, what became of it, and how many of it have no number."""

    part: Any
    laid_up: str
    became: str
    without: str


def line(part: Any, made: Any, now: datetime) -> Line:
    """A part of the stretch."""
    return Line(part, laid_up(part, made, now), became(part, made, now), without(part))


def laid_up(part: Any, made: Any, now: datetime) -> str:
    """Laid up Mon 11 May 10:20, Jonas; "" where nobody wrote that down."""
    return _("Laid up %(when)s.") % {"when": _when(part.lay_up, made, now)} if part.lay_up is not None else ""


def became(part: Any, made: Any, now: datetime) -> str:
    """Pulled, free: Mon 11 May 15:05, Jonas."""
    if part.end is None:
        return _("Not pulled yet.") if part.how == "still_in" else _("Nobody wrote what became of it.")
    when = _when(part.end, made, now)
    if part.how == "given_up":
        return _("Given up %(when)s.") % {"when": when}
    if part.how == "trimmed":
        return _("Trimmed %(when)s.") % {"when": when}
    how = came_off(part.came_off) if part.came_off else ""
    return (
        _("Pulled, %(how)s: %(when)s.") % {"how": how, "when": when} if how else _("Pulled %(when)s.") % {"when": when}
    )


def without(part: Any) -> str:
    """Of a part without a number that there is none; of several how many."""
    if not part.without:
        return ""
    if part.count == 1:
        return _("No serial number.")
    said = {"n": part.without, "count": part.count}
    return (
        ngettext("%(n)d of %(count)d has no serial number.", "%(n)d of %(count)d have no serial number.", part.without)
        % said
    )


def counted(made: Any) -> str:
    """12 pulled, 1 lost, 1 still in it; 2 without a serial number."""
    said = [
        (_("%(n)d pulled"), "pulled"),
        (_("%(n)d lost"), "lost"),
        (_("%(n)d trimmed"), "trimmed"),
        (_("%(n)d given up"), "given_up"),
        (_("%(n)d still in it"), "still_in"),
        (_("of %(n)d nobody wrote what became"), "unknown"),
    ]
    found = [text % {"n": n} for text, how in said if (n := made.counted(how))]
    if not found:
        return _("It made nothing in that time.")
    text = ", ".join(found)
    if made.without:
        text = _("%(counted)s; %(n)d without a serial number") % {"counted": text, "n": made.without}
    return f"{text}."


def _when(fact: Any, made: Any, now: datetime) -> str:
    return when_by(fact.at, made.people.get(fact.by), now, made.zone)


def when_by(at: datetime, name: str | None, now: datetime, zone: tzinfo) -> str:
    """Mon 11 May 15:05, Jonas: with whose hand it was, where somebody said so."""
    said = moment(at, now, zone)
    return _("%(when)s, %(name)s") % {"when": said, "name": name} if name else said
