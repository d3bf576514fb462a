"""One-time links: how somebody gets a password without a mail server, and how a tablet is signed in as a station.

A link carries a word that is stored only as its digest: whoever reads the database cannot use it. It is shown once.
"""

import enum
import secrets
from datetime import datetime, timedelta
from hashlib import sha256

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Invitation, Person

LASTS = timedelta(days=7)
_BYTES = 24


class Ended(enum.StrEnum):
    """Why a link lets nobody in."""

    UNKNOWN = "unknown"
    USED = "used"
    WITHDRAWN = "withdrawn"
    TOO_OLD = "too_old"


def digest_of(token: str) -> str:
    """What is stored of the word in a link."""
    return sha256(token.encode("utf-8", "replace")).hexdigest()


@transaction.atomic
def invite(person: Person, *, by: Person, at: datetime) -> str:
    """A new link for a person who has a role; the one before it, if still open, ends. Returns the word in it.

    A password that there is goes on working until the link is used.
    """
    now = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    if not now.is_active:
        raise Refused(_("%(name)s is switched off. Switch on first.") % {"name": now.name})
    if not now.role:
        raise Refused(_("%(name)s is only named. Choose a role first.") % {"name": now.name}, "role")
    withdraw(now, at=at)
    token = secrets.token_urlsafe(_BYTES)
    Invitation.objects.create(person=now, digest=digest_of(token), made_at=at, made_by=by, expires_at=at + LASTS)
    return token


def withdraw(person: Person, *, at: datetime) -> bool:
    """End the link that is open, and say whether there was one."""
    return bool(Invitation.objects.filter(person=person, used_at=None, withdrawn_at=None).update(withdrawn_at=at))


def found(token: str, at: datetime) -> tuple[Invitation | None, Ended | None]:
    """The invitation of a link, and why it lets nobody in; None where it does."""
    invitation = Invitation.objects.select_related("person").filter(digest=digest_of(token)).first()
    return invitation, _ended(invitation, at)


def _ended(invitation: Invitation | None, at: datetime) -> Ended | None:
    if invitation is None:
        return Ended.UNKNOWN
    if invitation.used_at is not None:
        return Ended.USED
    if invitation.withdrawn_at is not None or not (invitation.person.is_active and invitation.person.role):
        return Ended.WITHDRAWN
    return None if invitation.is_open(at) else Ended.TOO_OLD


@transaction.atomic
def accept(token: str, *, at: datetime, password: str | None = None) -> Person:
    """Use a link up: the person gets the password, a station none, and every older session of theirs ends.

    Lock the person and the invitation; refuse what is used, withdrawn or too old; write both. Of two at once the
    second is refused.
    """
    invitation, ended = found(token, at)
    if invitation is not None:
        Person.objects.select_for_update(no_key=True).get(pk=invitation.person_id)
        invitation, ended = found(token, at)
    if invitation is None or ended is not None:
        raise Refused(_("This link lets nobody in any more. Ask the shop lead for a new one."))
    person = invitation.person
    if password is None and not person.is_station:
        raise Refused(_("Choose a password."), "password1")
    person.set_password(None if person.is_station else password)
    person.save(update_fields=["password"])
    invitation.used_at = at
    invitation.save(update_fields=["used_at"])
    return person
