"""PINs: how a shared tablet knows whose hands it was. Guessing is slowed down for each person, never for the others."""

import re
from datetime import datetime, timedelta

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Pin, Shift, Shop
from tooling.words.when import clock_or_when

SHORTEST, LONGEST = 4, 8
# Wrong ones in a row before there is a wait; each further one doubles it, up to an hour.
FREE, LONGEST_WAIT = 5, 60
_DIGITS = re.compile(rf"[0-9]{{{SHORTEST},{LONGEST}}}")
_YEAR = re.compile(r"(?:19|20)[0-9]{2}")
_REPEATED = re.compile(r"(.{1,4}?)\1+")
_ROUND = "01234567890123456789"


def check_good(pin: str) -> None:
    """Refuse what is no PIN, and those that everybody tries first."""
    if not _DIGITS.fullmatch(pin):
        raise Refused(_("A PIN is 4 to 8 digits."), "pin")
    obvious = _YEAR.fullmatch(pin) or _REPEATED.fullmatch(pin) or pin in _ROUND or pin[::-1] in _ROUND
    if obvious:
        raise Refused(_("That PIN is tried first: no row such as 1234, nothing repeated, no year."), "pin")


def set_pin(person: Person, *, pin: str) -> None:
    """A person's PIN from now on, checked; wrong tries before it are forgotten, and no station knows them any more."""
    check_good(pin)
    if person.is_station:
        raise Refused(_("A station has no PIN: it asks for those of the people."), "pin")
    Pin.objects.update_or_create(person=person, defaults={"secret": make_password(pin), "wrong": 0, "wrong_at": None})
    Shift.objects.filter(person=person).delete()


def take_away(person: Person) -> None:
    """No PIN any more: a station lets nobody in by that name."""
    Pin.objects.filter(person=person).delete()
    Shift.objects.filter(person=person).delete()


def has_pin(person: Person) -> bool:
    """Whether a station can ask for one."""
    return Pin.objects.filter(person=person).exists()


def check(person: Person, pin: str, at: datetime) -> bool:
    """Whether it is the person's PIN. Call it outside of a transaction, so that a wrong one is counted for certain.

    Lock the row; refuse while there is a wait; count the try as wrong; only then look. So many at once cannot
    guess more often than one after the other. Raises Refused with what to do where no PIN can be right.
    """
    with transaction.atomic():
        row = Pin.objects.select_for_update(of=("self",)).select_related("person").filter(person=person).first()
        if row is None or not row.person.is_active:
            raise Refused(_("%(name)s has no PIN here. The shop lead sets one.") % {"name": person.name}, "pin")
        until = _waits_until(row)
        if until is not None and at < until:
            said = {"name": person.name, "time": clock_or_when(until, at, Shop.current().zone)}
            raise Refused(_("Too many wrong PINs for %(name)s. Try again at %(time)s.") % said, "pin")
        row.wrong, row.wrong_at = row.wrong + 1, at
        row.save(update_fields=["wrong", "wrong_at"])
    if not check_password(pin, row.secret):
        return False
    Pin.objects.filter(pk=row.pk, secret=row.secret).update(wrong=0, wrong_at=None)
    return True


def _waits_until(row: Pin) -> datetime | None:
    if row.wrong < FREE or row.wrong_at is None:
        return None
    minutes = min(2 ** min(row.wrong - FREE, 10), LONGEST_WAIT)
    return row.wrong_at + timedelta(minutes=minutes)
