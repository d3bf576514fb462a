"""The list of what is wanted: a part comes on it, its count is changed, it is taken off. One function a deed.

What is laid up and pulled ticks itself off: how far a part is, is worked out from the entries when the list is read, so
voids, corrections and late entries are right by themselves.
"""

import json
from datetime import date, datetime
from hashlib import sha256
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared.errors import Refused, TokenReused
from tooling.models import Part, PartChange, PartRevision, Person, Shop, Wanted
from tooling.models.wanted import LEAST_WANTED, MOST_WANTED
from tooling.selectors.wanted import done_before
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.saving import save
from tooling.services.wanted_done import put_away

# What is kept of a change, among the changes of the part.
FIELD = "wanted"


def want(
    part: Part,
    *,
    by: Person,
    at: datetime,
    count: int = 1,
    revision: PartRevision | None = None,
    day: date | None = None,
    token: UUID | None = None,
) -> Wanted:
    """A part comes on the list; what was laid up before counts for nothing.

    Order: the token (the same form again gets the first answer again); what is done since an earlier day is put away;
    a part that is on the list is refused; the row.
    """
    row = Wanted(part=part, revision=revision, count=count, day=day, at=at, by=by, token=token)
    row.asked = _fingerprint(row)
    if first := _answered(row):
        return first
    _check(row, at)
    with transaction.atomic():
        put_away(done_before(at, Shop.current().zone), at, {part.pk})
        if first := _answered_or_refused(row):
            return first
        try:
            save(row)
        except ValidationError:
            # What came in at the same moment, with this form or with another one, is there now.
            if first := _answered_or_refused(row):
                return first
            raise
    return row


def already_there(row: Wanted) -> str:
    """Why a part does not come on the list a second time."""
    text = _("%(part)s is on the list already, %(count)s of it. Change how many there.")
    return text % {"part": row.part.number, "count": row.count}


@transaction.atomic
def change(
    row: Wanted,
    *,
    by: Person,
    at: datetime,
    count: int,
    revision: PartRevision | None,
    day: date | None,
    read: str | None = None,
) -> Wanted:
    """Changes how many are wanted, of which revision, for which day; what stood there before is kept with the part.

    read: how it stood on the page that was sent (`said`); what somebody changed since is refused.
    """
    row = _locked(row)
    before = said(row)
    if read is not None and read != before:
        raise Refused(_("Somebody changed this meanwhile: it is %(now)s now. Look it over.") % {"now": before})
    keeps_day = day == row.day
    row.count, row.revision, row.day = count, revision, day
    if said(row) != before:
        _check(row, at, day=not keeps_day)
        save(row)
        of = revision or row.part.revisions.newest_first().first()
        if of is not None:
            PartChange.objects.create(
                part=row.part, revision=of, at=at, who=by, field=FIELD, before=before, after=said(row)
            )
    return row


@transaction.atomic
def take_off(row: Wanted, *, by: Person, at: datetime) -> Wanted:
    """A part is wanted no more. It stays to be read, with who took it off and when. Twice is harmless."""
    row = _locked(row, any_of_them=True)
    if row.off_at is None:
        row.off_at, row.off_by = max(at, row.at), by
        row.save(update_fields=["off_at", "off_by"])
    return row


@transaction.atomic
def rub_out(row: Wanted, *, by: Person, at: datetime) -> Wanted:
    """One's own taking off, less than five minutes ago, was a slip: it is wanted as before."""
    row = _locked(row, any_of_them=True)
    if row.off_at is None:
        return row
    if not may_rub_out(row, by, at):
        raise Refused(_("Rubbing out ends five minutes after taking off. Put it on the list anew."))
    _refuse_twice(row)
    row.off_at = row.off_by = None
    try:
        with transaction.atomic():
            row.save(update_fields=["off_at", "off_by"])
    except IntegrityError:
        # It came on the list anew at the same moment.
        _refuse_twice(row)
        raise
    return row


def may_rub_out(row: Wanted, person: Person, at: datetime) -> bool:
    """True for who took it off within the last five minutes."""
    return row.off_at is not None and row.off_by_id == person.pk and at - row.off_at <= RUB_OUT_WITHIN


def said(row: Wanted) -> str:
    """A row in plain words, the same on every machine."""
    more = (row.revision.revision if row.revision is not None else "", row.day.isoformat() if row.day else "")
    return ", ".join([str(row.count), *filter(None, more)])


def _check(row: Wanted, at: datetime, *, day: bool = True) -> None:
    if not LEAST_WANTED <= row.count <= MOST_WANTED:
        limits = {"least": LEAST_WANTED, "most": MOST_WANTED}
        raise Refused(_("How many: from %(least)s to %(most)s.") % limits, "count")
    if row.revision is not None and row.revision.part_id != row.part_id:
        text = _("%(part)s has no revision %(revision)s.")
        raise Refused(text % {"part": row.part.number, "revision": row.revision.revision}, "revision")
    if day and row.day is not None and row.day < at.astimezone(Shop.current().zone).date():
        raise Refused(_("That day is over. Say a day to come, or none."), "day")


def _locked(row: Wanted, any_of_them: bool = False) -> Wanted:
    kept = Wanted.objects.select_for_update(of=("self",)).select_related("part", "revision").get(pk=row.pk)
    if kept.off_at is not None and not any_of_them:
        raise Refused(_("This is off the list by now. Put it on the list anew."))
    return kept


def _refuse_twice(row: Wanted) -> None:
    if there := Wanted.objects.on_list().filter(part=row.part_id).first():
        raise Refused(already_there(there), "part")


def _fingerprint(row: Wanted) -> str:
    asked: list[Any] = [row.part_id, row.revision_id, row.count, row.day.isoformat() if row.day else None, row.by_id]
    return sha256(json.dumps(asked).encode()).hexdigest()[:16]


def _answered_or_refused(row: Wanted) -> Wanted | None:
    """What the same form wrote before; else the part may not be on the list."""
    first = _answered(row)
    if first is None:
        _refuse_twice(row)
    return first


def _answered(row: Wanted) -> Wanted | None:
    first = Wanted.objects.filter(token=row.token).first() if row.token else None
    if first is not None and first.asked != row.asked:
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    return first
