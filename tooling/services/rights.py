"""Rights of people: given from a day on, ended on one, asked for where formal records are on."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.calc.right_ends import with_end
from tooling.models import May, Person, Right, Role, Shop
from tooling.selectors.rights import might, was_given
from tooling.services.times import day_in_bounds
from tooling.words.rights import between, lacking


@transaction.atomic
def give(person: Person, may: str, *, since: date, until: date | None = None, by: Person | None, at: datetime) -> Right:
    """Somebody may do this from a day on, and to a day where one is said; both belong to it.

    Lock the person; refuse a day that cannot be, a station, and a right that they have already; write.
    """
    if may not in May.values:
        raise Refused(_("Choose what they may do."), "may")
    now = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    if now.role in Role.SHARED:
        raise Refused(_("A station is nobody: give the right to the person whose hands it is."), "person")
    there = Right.objects.filter(person=now, may=may).values("since", "until")
    for field, sentence in wrong_with({"since": since, "until": until}, there).items():
        raise Refused(sentence, field)
    return Right.objects.create(person=now, may=may, since=since, until=until, given_by=by, given_at=at)


@transaction.atomic
def end(right: Right, *, until: date, by: Person | None, at: datetime) -> Right:
    """The last day of a right. What was done by it before stays done by it.

    Lock the right; refuse a day before it began, and one that makes it longer; write.
    """
    now = Right.objects.select_for_update(no_key=True).get(pk=right.pk)
    if now.until == until:
        return now
    for field, sentence in wrong_with({"since": now.since, "until": until}, ()).items():
        raise Refused(sentence, field)
    if until > (now.until or date.max):
        raise Refused(_("It ends before that. Give the right anew from the day after its end."), "until")
    now.earlier = with_end(now.earlier, now.until, at)
    now.until, now.ended_by, now.ended_at = until, by, at
    now.save(update_fields=["until", "ended_by", "ended_at", "earlier"])
    return now


def refuse_without(person: Person | None, may: str, at: datetime, *, writer: Person | None = None) -> None:
    """Raises Refused, at the hands, where rights are asked and the person might not do it: then, and as it is written.

    Both days count, so that nobody gets round a right by saying an earlier one. A day before the first right goes by
    the role, as on the page of rights. Before anybody was given one, now or for later, nothing is refused: whether a
    role may do it is the screen's question. writer: who writes it down in the person's name, and might do it as well.
    """
    shop = Shop.current()
    if not (shop.formal_records and was_given(may)):
        return
    for day in sorted({one.astimezone(shop.zone).date() for one in (at, clock.now())}):
        asked = was_given(may, day)
        if person is None or not might(person, may, day, asked=asked):
            raise Refused(lacking(person, may, day), "by")
        if writer is not None and not might(writer, may, day, asked=asked):
            text = _("Nor can it be written down for %(name)s: who has the right signs in to say so.")
            raise Refused(f"{lacking(writer, may, day)} {text % {'name': person.name}}", "by")


def wrong_with(says: Mapping[str, Any], there: Iterable[Mapping[str, Any]]) -> dict[str, str]:
    """What is wrong with the days of a right, by name; `there`: the other rights of that person to do the same."""
    since, until = says["since"], says["until"]
    for name, day in (("since", since), ("until", until)):
        try:
            if day is not None:
                day_in_bounds(day)
        except Refused as refused:
            return {name: refused.message}
    if until is not None and until < since:
        return {"until": _("The last day lies before the first.")}
    for one in there:
        if since <= (one["until"] or date.max) and one["since"] <= (until or date.max):
            text = _("They have this right already, %(days)s. End that one first, or say days outside of it.")
            return {"since": text % {"days": between(one["since"], one["until"])}}
    return {}
