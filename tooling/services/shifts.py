"""Whose hands it is at a station: a name, and once a shift the PIN of that person."""

from datetime import datetime, timedelta

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Pin, Shift
from tooling.services import pins

# So long one PIN is enough at one station: a long day, and never the next one.
LASTS = timedelta(hours=10)


def asks_pins() -> bool:
    """Whether stations ask for PINs: as soon as one person has one. Before that a name is enough."""
    return Pin.objects.filter(person__is_active=True).exists()


def let_in(station: Person, person: Person, *, pin: str, at: datetime, anew: bool = False) -> None:
    """Take a name at a station, or refuse it with what to do. Call it outside of a transaction, as `pins.check`.

    A person who is in is taken without a look at the PIN. Else the PIN is asked for and checked, and a right one
    lets the person in for the shift. `anew`: the PIN is wanted from a person who is in as well.
    """
    if not asks_pins() or (not anew and is_in(station, person, at)):
        return
    if not pin and pins.has_pin(person):
        if anew:
            raise Refused(_("For this the PIN of %(name)s is wanted each time.") % {"name": person.name}, "pin")
        raise Refused(_("The PIN of %(name)s is missing: once a shift.") % {"name": person.name}, "pin")
    if not pins.check(person, pin, at):
        raise Refused(_("That is not the PIN of %(name)s.") % {"name": person.name}, "pin")
    Shift.objects.update_or_create(station=station, person=person, defaults={"until": at + LASTS})


def is_in(station: Person, person: Person, at: datetime) -> bool:
    """Whether the person's PIN was right there in this shift."""
    return Shift.objects.filter(station=station, person=person, until__gt=at).exists()


def end_all(station: Person) -> None:
    """The station is signed out: whoever comes next is asked again."""
    Shift.objects.filter(station=station).delete()
