"""Tins opened at a station, or for one person: from then on their lot goes onto every coat that is written there."""

from datetime import date, datetime, timedelta
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused, TokenReused
from tooling.models import Person, ReleaseSystem, Tin


def open_tin(
    recipe: ReleaseSystem,
    *,
    holder: Person,
    stuff: str,
    lot: str,
    by: Person | None,
    expires_on: date | None = None,
    ago: timedelta | None = None,
    token: UUID | None = None,
) -> Tin:
    """A tin is opened, now, less the time that it took to get here (`ago`).

    Entries that are written already keep their lot.

    Order: the token (the same form again gets the tin that it opened); the one that was open there is closed; the row.
    One that was held up while a later one was opened there is closed already.
    """
    lot = lot.strip()
    if not lot:
        raise Refused(_("Say the lot, or the number that stands on the tin."), "lot")
    tin = Tin(
        recipe=recipe, holder=holder, stuff=stuff, lot=lot, expires_on=expires_on, opened_by=by, token=token,
    )  # fmt: skip
    first = _opened(tin)
    if first is not None:
        return first
    try:
        with transaction.atomic():
            return _open(tin, clock.now() - (ago or timedelta()))
    except IntegrityError as raced:
        # The same form came in twice at once.
        first = _opened(tin)
        if first is not None:
            return first
        raise Refused(_("Somebody opened a tin here at this very moment. Look once more.")) from raced


def _open(tin: Tin, at: datetime) -> Tin:
    later = Tin.objects.open().filter(recipe=tin.recipe, holder=tin.holder, stuff=tin.stuff, opened_at__gt=at).first()
    if later is None:
        _close(tin.recipe, tin.holder, tin.stuff)
    tin.opened_at, tin.closed_at = at, later.opened_at if later is not None else None
    tin.save()
    return tin


def _opened(tin: Tin) -> Tin | None:
    """What the same form opened; None where it has not yet."""
    first = Tin.objects.filter(token=tin.token).first() if tin.token is not None else None
    if first is None:
        return None
    said = ("recipe_id", "holder_id", "stuff", "lot", "expires_on")
    if any(getattr(first, name) != getattr(tin, name) for name in said):
        raise TokenReused(_("This form has opened tin %(lot)s already. Open the page anew.") % {"lot": first.lot})
    return first


def close_tin(recipe: ReleaseSystem, *, holder: Person, stuff: str) -> None:
    """The tin that is open there is empty or put away. Twice is harmless."""
    _close(recipe, holder, stuff)


def _close(recipe: ReleaseSystem, holder: Person, stuff: str) -> None:
    Tin.objects.open().filter(recipe=recipe, holder=holder, stuff=stuff).update(closed_at=clock.now())
