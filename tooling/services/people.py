"""Who may sign in and as what, and in which units they read."""

import secrets

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Role


@transaction.atomic
def give_role(*, name: str, role: str) -> tuple[Person, str]:
    """Give a person, new or known, a role and a new password; "" takes the way in away.

    Order: find or make the person, refuse to leave the shop without a lead, write. A session that is open with
    the old password ends, because it is signed with it.
    """
    try:
        person = Person.objects.named(name)
    except ValidationError as wrong:
        raise Refused(" ".join(wrong.messages), "name") from wrong
    # Two leads who demote each other at once must not both succeed.
    leads = list(Person.objects.select_for_update().filter(role=Role.LEAD).values_list("pk", flat=True))
    if leads == [person.pk] and role != Role.LEAD:
        raise Refused(_("%(name)s is the only lead. Make somebody else a lead first.") % {"name": person.name}, "role")
    password = secrets.token_urlsafe(9) if role else ""
    person.role = role
    person.set_password(password or None)
    person.save()
    return person, password


def choose_units(person: Person, units: str) -> None:
    """The units in which a person reads and types from now on."""
    Person.objects.filter(pk=person.pk).update(units=units)
    person.units = units
