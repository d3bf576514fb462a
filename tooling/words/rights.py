"""Rights in words: what somebody may do, from when to when, and why a deed is refused without one."""

from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.models import May, Person
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
