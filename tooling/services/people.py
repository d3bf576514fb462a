"""Who is there, what each may do, and in which units they read. Nobody is ever removed: histories name them."""

import secrets
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Invitation, Person, Role
from tooling.models.people import name_key


@transaction.atomic
def give_role(*, name: str, role: str, at: datetime) -> tuple[Person, str]:
    """Give a person, new or known, a role and a new password; "" takes the way in away. The rules are the screen's.

    Find or make the person, switch on who has left, change role and password.
    """
    person = Person.objects.filter(name_key=name_key(name)).first() or add_person(name=name, role=role)
    if role and not person.is_active:
        switch_on(person)
    password = secrets.token_urlsafe(9) if role else ""
    return let_in(person, role=role, password=password, at=at), password


@transaction.atomic
def let_in(person: Person, *, role: str, password: str, at: datetime) -> Person:
    """A role with a password at once, without a link; "" for none.

    Change the role as elsewhere; end sessions and links that were given out; write the password.
    """
    now = change_role(person, role=role, at=at)
    _shut_out(now, at)
    now.set_password(password or None)
    now.save()
    return now


@transaction.atomic
def add_person(*, name: str, role: str = "") -> Person:
    """Somebody new, without a way in yet; without a role only a name, for histories.

    A name that is there already is refused, so that nobody's role is changed unseen.
    """
    person = Person(name=name, role=role)
    person.set_unusable_password()
    try:
        person.full_clean()
    except ValidationError as wrong:
        there = Person.objects.filter(name_key=person.name_key).first() if person.name_key else None
        if there is not None:
            raise Refused(_("There is a %(name)s already.") % {"name": there.name}, "name") from wrong
        field, said = next(iter(wrong.message_dict.items()))
        raise Refused(" ".join(said), field) from wrong
    person.save()
    return person


@transaction.atomic
def change_role(person: Person, *, role: str, at: datetime) -> Person:
    """Another role, at once; "" takes the way in away and leaves the name.

    Lock the person; refuse what cannot be; write. Without a role the password goes and open links end.
    """
    if role not in ("", *Role.values):
        raise Refused(_("Choose one of the roles."), "role")
    now = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    if now.role != role and Role.STATION in (now.role, role):
        raise Refused(_("A station stays one, and a person a person: add the other one by a name of its own."), "role")
    if role != Role.LEAD:
        _keep_a_lead(now)
    now.role = role
    if not role:
        _shut_out(now, at)
    now.save()
    return now


@transaction.atomic
def switch_off(person: Person, *, at: datetime) -> Person:
    """Somebody has left: signed out at once, offered nowhere any more, and still named in every history.

    Lock the person; refuse where it is the last lead; end sessions, links and password; write.
    """
    now = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    _keep_a_lead(now)
    now.is_active = False
    _shut_out(now, at)
    now.save()
    return now


@transaction.atomic
def switch_on(person: Person) -> Person:
    """Somebody is back. The way in is a new link: the old password and the sessions of it are gone for good."""
    now = Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    now.is_active = True
    now.save(update_fields=["is_active"])
    return now


def choose_units(person: Person, units: str) -> None:
    """The units in which a person reads and types from now on."""
    Person.objects.filter(pk=person.pk).update(units=units)
    person.units = units


def _shut_out(person: Person, at: datetime) -> None:
    """No password and no link that was given out lets the person in; every session ends with the password.

    A link that was used is withdrawn as well: the tablet that it signed in is a station no more.
    """
    person.set_unusable_password()
    Invitation.objects.filter(person=person, withdrawn_at=None).update(withdrawn_at=at)


def _keep_a_lead(person: Person) -> None:
    """Refuses to take the last lead away who can sign in. Two who demote each other at once must not both succeed."""
    leads = Person.objects.select_for_update(no_key=True).filter(role=Role.LEAD, is_active=True).order_by("pk")
    if [lead.pk for lead in leads if lead.has_usable_password()] == [person.pk]:
        raise Refused(_("%(name)s is the only lead. Make somebody else a lead first.") % {"name": person.name}, "role")
