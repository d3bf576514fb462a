"""Tins opened at a station, or for one person: from then on their lot goes onto every coat that is written there."""

from datetime import date
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
    token: UUID | None = None,
) -> Tin:
    """A tin is opened, now. Entries that are written already keep their lot.

    Order: the token (the same form again gets the tin that it opened); the one that was open there is closed; the row.
    """
    lot = lot.strip()
    if not lot:
        raise Refused(_("Say the lot, or the number that stands on the tin."), "lot")
    first = Tin.objects.filter(token=token).first() if token is not None else None
    if first is not None:
        return _same(first, lot, stuff)
    try:
        with transaction.atomic():
            at = clock.now()
            _close(recipe, holder, stuff)
            return Tin.objects.create(
                recipe=recipe, holder=holder, stuff=stuff, lot=lot, expires_on=expires_on, opened_at=at, opened_by=by,
                token=token,
            )  # fmt: skip
    except IntegrityError as raced:
        raise Refused(_("Somebody opened a tin here at this very moment. Look once more.")) from raced


def _same(first: Tin, lot: str, stuff: str) -> Tin:
    if (first.lot, first.stuff) != (lot, stuff):
        raise TokenReused(_("This form has opened tin %(lot)s already. Open the page anew.") % {"lot": first.lot})
    return first


def close_tin(recipe: ReleaseSystem, *, holder: Person, stuff: str) -> None:
    """The tin that is open there is empty or put away. Twice is harmless."""
    _close(recipe, holder, stuff)


def _close(recipe: ReleaseSystem, holder: Person, stuff: str) -> None:
    Tin.objects.open().filter(recipe=recipe, holder=holder, stuff=stuff).update(closed_at=clock.now())
