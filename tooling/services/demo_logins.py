"""The names that the demo shop is entered with, and the PINs of its hands at the shared tablet.

Password and PIN are known to everyone who reads this file, which does no harm while only this machine reaches the shop.
Before others do, in the house or through a web server, every demo name that still has them gets new ones.
"""

import json
import os
import secrets
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password

from shared.errors import Refused
from tooling.models import Person, Pin, Role
from tooling.services import pins

PASSWORD = "wax-before-pull"  # noqa: S105  (known on purpose)
PIN = "7294"
# The hands of the demo, who log at the shared tablet; the last four have no sign-in of their own.
HANDS = ("Ines", "Jonas", "Mara", "Oskar", "Tilda", "Runa")
LOGINS = (("Ines", Role.LEAD), ("Jonas", Role.HAND), ("Wall tablet", Role.STATION), ("Bookkeeper", Role.READER))

# Where the new ones are kept to be printed again, readable by their owner alone.
_LOGINS, _PINS = "demo_logins.json", "demo_pins.json"


class Login(NamedTuple):
    """What to type at the door."""

    name: str
    role: str
    password: str


def create() -> list[Person]:
    """Make the demo's people who sign in, all with the known password."""
    people, known = [], make_password(PASSWORD)
    for name, role in LOGINS:
        person = Person.objects.named(name)
        person.role, person.password = role, known
        person.save()
        people.append(person)
    return people


def give_pins(people: Iterable[Person]) -> None:
    """Let the demo's hands log at the shared tablet, all with the known PIN."""
    for person in people:
        if person.name in HANDS:
            pins.set_pin(person, pin=PIN)


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


def at_the_door() -> list[Login]:
    """Those that the door of a demo offers on its own machine: none once any of them was made anew."""
    if _read():
        return []
    return [Login(one.name, one.role, PASSWORD) for one in _people() if _is_known(one.password)]


# The door is opened often, and each answer costs a slow hash; the same stored password has the same answer.
@lru_cache(maxsize=64)
def _is_known(stored: str) -> bool:
    return check_password(PASSWORD, stored)


def working_pins() -> list[tuple[str, str]]:
    """The demo's hands whose PIN is still one that was printed, with that PIN."""
    printed = _read(_PINS)
    found = []
    for row in _pins():
        for pin in filter(None, (printed.get(row.person.name), PIN)):
            if check_password(pin, row.secret):
                found.append((row.person.name, pin))
                break
    return found


def renew() -> None:
    """Give new passwords and PINs to every demo name that still has the known ones; own ones are kept."""
    _renew_pins()
    printed = _read()
    for person in _people():
        if person.check_password(PASSWORD):
            printed[person.name] = secrets.token_urlsafe(9)
            person.set_password(printed[person.name])
            person.save(update_fields=["password"])
    _write(printed)


def _renew_pins() -> None:
    printed = _read(_PINS)
    for row in _pins():
        if check_password(PIN, row.secret):
            printed[row.person.name] = _new_pin()
            pins.set_pin(row.person, pin=printed[row.person.name])
    _write(printed, _PINS)


def _new_pin() -> str:
    while True:
        pin = f"{secrets.randbelow(10_000):04}"
        try:
            pins.check_good(pin)
        except Refused:
            continue
        if pin != PIN:
            return pin


def _pins() -> list[Pin]:
    rows = Pin.objects.select_related("person").filter(person__name__in=HANDS, person__is_active=True)
    return sorted(rows, key=lambda row: HANDS.index(row.person.name))


def _people() -> list[Person]:
    by_name = {person.name: person for person in Person.objects.filter(name__in=[name for name, _ in LOGINS])}
    return [by_name[name] for name, _ in LOGINS if name in by_name and by_name[name].can_sign_in]


def _read(name: str = _LOGINS) -> dict[str, str]:
    try:
        return dict(json.loads((settings.DATA_DIR / name).read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def _write(printed: dict[str, str], name: str = _LOGINS) -> None:
    path = settings.DATA_DIR / name
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump(printed, file)
