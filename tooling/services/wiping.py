"""That coats were wiped, and that they were not after all. No rule of release reads it: only clocks are quieted."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID, uuid5

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Person, Wipe
from tooling.services.deeds.undo import RUB_OUT_WITHIN


def wipe(
    coats: Sequence[Entry],
    *,
    by: Person | None,
    recorded_by: Person,
    ago: timedelta | None = None,
    token: UUID | None = None,
) -> list[Wipe]:
    """Each of these coats is wiped, now, less the time that it took to get here (`ago`).

    One that was wiped already stays so, and the same form again changes nothing.

    Order: whether each is a coat that stands; then the rows, all or none.
    """
    for coat in coats:
        if coat.kind != "coat" or not Entry.objects.filter(pk=coat.pk).standing().exists():
            raise Refused(_("That coat was taken back meanwhile."))
    try:
        with transaction.atomic():
            at = clock.now() - (ago or timedelta())
            return [_wiped(coat, by, recorded_by, token, max(at, coat.at)) for coat in coats]
    except IntegrityError:
        # Somebody said the same at this very moment.
        return list(Wipe.objects.standing().filter(coat__in=coats))


def _wiped(coat: Entry, by: Person | None, recorded_by: Person, token: UUID | None, at: datetime) -> Wipe:
    own = uuid5(token, str(coat.pk)) if token is not None else None
    there = Wipe.objects.standing().filter(coat=coat).first()
    there = there or (Wipe.objects.filter(token=own).first() if own is not None else None)
    return there or Wipe.objects.create(coat=coat, at=at, by=by, recorded_by=recorded_by, token=own)


def take_back(wiped: Wipe, *, by: Person) -> None:
    """It was not wiped after all: for the same sign-in within five minutes. Twice is harmless."""
    if wiped.taken_back_at is not None:
        return
    if not may_take_back(wiped, by):
        raise Refused(_("That can be taken back for five minutes, by who said it."))
    wiped.taken_back_at = clock.now()
    wiped.save(update_fields=["taken_back_at"])


def may_take_back(wiped: Wipe, person: Person) -> bool:
    """True for what was said from the same sign-in within the last five minutes."""
    return wiped.recorded_by_id == person.pk and clock.now() - wiped.at <= RUB_OUT_WITHIN
