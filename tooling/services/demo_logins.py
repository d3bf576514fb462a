"""The names that the demo shop is entered with.

Their password is known to everyone who reads this file, which does no harm while only this machine reaches the shop.
Before others do, in the house or through a web server, every demo name that still has it gets a new one.
"""

import json
import os
import secrets
from typing import NamedTuple

from django.conf import settings

from tooling.models import Person, Role

PASSWORD = "wax-before-pull"  # noqa: S105  (known on purpose)
LOGINS = (("Ines", Role.LEAD), ("Jonas", Role.HAND), ("Wall tablet", Role.STATION), ("Bookkeeper", Role.READER))


class Login(NamedTuple):
    """What to type at the door."""

    name: str
    role: str
    password: str


def create() -> list[Person]:
    """Make the demo's people who sign in, all with the known password."""
    people = []
    for name, role in LOGINS:
        person = Person.objects.named(name)
        person.role = role
        person.set_password(PASSWORD)
        person.save()
        people.append(person)
    return people


def working() -> list[Login]:
    """The demo names whose password is still one that was printed, with that password."""
    printed = _read()
    found = []
    for person in _people():
        for password in filter(None, (printed.get(person.name), PASSWORD)):
            if person.check_password(password):
                found.append(Login(person.name, person.role, password))
                break
    return found


def renew() -> None:
    """Give a new password to every demo name that still has the known one; whoever chose an own one keeps it."""
    printed = _read()
    for person in _people():
        if person.check_password(PASSWORD):
            printed[person.name] = secrets.token_urlsafe(9)
            person.set_password(printed[person.name])
            person.save(update_fields=["password"])
    _write(printed)


def _people() -> list[Person]:
    by_name = {person.name: person for person in Person.objects.filter(name__in=[name for name, _ in LOGINS])}
    return [by_name[name] for name, _ in LOGINS if name in by_name and by_name[name].can_sign_in]


def _read() -> dict[str, str]:
    try:
        return dict(json.loads((settings.DATA_DIR / "demo_logins.json").read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def _write(printed: dict[str, str]) -> None:
    path = settings.DATA_DIR / "demo_logins.json"
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump(printed, file)
