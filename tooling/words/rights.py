"""Rights in words: what somebody may do, from when to when, and why a deed is refused without one."""

from dataclasses import dataclass
from datetime import date, tzinfo
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models import May, Person, Right
from tooling.words.when import plain_day

MAY = {
    May.ACCEPT: gettext_lazy("accept a tool"),
    May.FREE: gettext_lazy("free a held tool"),
    May.APPROVE: gettext_lazy("approve that a tool is retired"),
}
# Where nobody was ever given the right.
BY_ROLE = {
    May.ACCEPT: gettext_lazy("every lead"),
    May.FREE: gettext_lazy("everybody who logs deeds"),
    May.APPROVE: gettext_lazy("every lead"),
}
_LACKING = {
    May.ACCEPT: gettext_lazy("%(name)s has no right to accept a tool on %(day)s."),
    May.FREE: gettext_lazy("%(name)s has no right to free a tool on %(day)s."),
    May.APPROVE: gettext_lazy("%(name)s has no right to approve on %(day)s."),
}


def between(since: date, until: date | None) -> str:
    """from 6 May 2026 on; from 6 May 2026 to 9 May 2026; on 6 May 2026."""
    first = plain_day(since)
    if until is None:
        return _("from %(first)s on") % {"first": first}
    if until == since:
        return _("on %(first)s") % {"first": first}
    return _("from %(first)s to %(last)s") % {"first": first, "last": plain_day(until)}


def lacking(person: Person | None, may: str, day: date) -> str:
    """Why a deed that wants a right is refused, and what to do."""
    if person is None:
        return _("Say who did it: with formal records on this wants the right of a person.")
    said = _LACKING[May(may)] % {"name": person.name, "day": plain_day(day)}
    return f"{said} {_('Somebody who has it does this, or a lead gives the right on the page “Rights”.')}"


@dataclass(frozen=True, slots=True)
class Line:
    """Who may do one thing: what it is, how it is decided, and each with the days and who gave it."""

    may: str
    how: str
    people: list[tuple[Person, str]]


def line(who: Any, formal: bool) -> Line:
    """One thing and who may do it."""
    if who.asked:
        how = (
            _("By a right of their own:") if who.people else _("Nobody has the right on that day: give it to somebody.")
        )
    elif formal:
        how = _("Nobody was given this right by then. It goes by the role, to %(who)s:") % {"who": BY_ROLE[who.may]}
    else:
        how = _("Formal records are off, so no right is asked: %(who)s.") % {"who": BY_ROLE[who.may]}
        how = f"{how} {_('By right, once they are on:')}" if who.given else how
    if who.may == May.APPROVE:
        how = f"{how} {_('No deed of the program asks for this one: it is kept to be looked up.')}"
    shown = who.people if formal else who.given
    return Line(str(MAY[who.may]), how, [(one, _days_and_giver(right) if right else "") for one, right in shown])


def held(right: Right, zone: tzinfo) -> tuple[str, str, str]:
    """One right of a person: what, from when to when, and who said it when."""
    ends = ""
    if right.ended_at is not None:
        said = {"name": right.ended_by or _("an import"), "day": plain_day(right.ended_at.astimezone(zone).date())}
        ends = _("Its end was said by %(name)s on %(day)s.") % said
    given = _given(right, zone)
    return str(MAY[May(right.may)]), between(right.since, right.until), f"{given} {ends}".strip()


def answer(person: Person, may: May, day: date, right: Right | None, *, by_role: bool, zone: tzinfo) -> str:
    """Might they, that day? A sentence, with when that was said where it was said later."""
    said = {"name": person.name, "day": plain_day(day), "may": MAY[may]}
    if right is None and by_role:
        text = _("%(name)s might %(may)s on %(day)s by role, since nobody had been given the right yet.")
        return text % said
    if right is None:
        return _("%(name)s had no right to %(may)s on %(day)s.") % said
    yes = _("%(name)s might %(may)s on %(day)s: by the right %(days)s.")
    text = yes % {**said, "days": between(right.since, right.until)}
    late = right.given_at.astimezone(zone).date() > day
    return f"{text} {_given(right, zone)}{' ' + _('That was after the day that is asked about.') if late else ''}"


def _given(right: Right, zone: tzinfo) -> str:
    said = {"name": right.given_by, "day": plain_day(right.given_at.astimezone(zone).date())}
    if right.given_by is None:
        return _("Taken in on %(day)s.") % said
    return _("Given by %(name)s on %(day)s.") % said


def _days_and_giver(right: Right) -> str:
    days = between(right.since, right.until)
    by = _("given by %(name)s") % {"name": right.given_by} if right.given_by is not None else ""
    return f"{days}, {by}" if by else days
