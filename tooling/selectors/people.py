"""Who is there and how each comes in."""

import enum
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Prefetch, QuerySet

from tooling.models import Invitation, Person, Pin, Role


class Way(enum.StrEnum):
    """How a person comes in."""

    IN = "in"  # by name and password, a station by having been signed in
    INVITED = "invited"
    NOT_YET = "not_yet"
    NAMED = "named"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class Known:
    """A person, the way in, the link that is open, and whether a station can ask for a PIN."""

    person: Person
    way: Way
    link: Invitation | None
    has_pin: bool


# Those who lead first, then the floor, then who looks on; those without a role last.
_ORDER = (Role.LEAD, Role.HAND, Role.STATION, Role.READER, "")


def people(at: datetime) -> list[Known]:
    """Everybody by role and name, those who are switched off at the end."""
    known = _known(Person.objects.all(), at)
    return sorted(known, key=lambda one: (one.way == Way.OFF, _ORDER.index(one.person.role), one.person.name_key))


def lacking_pins(known: list[Known]) -> list[Person] | None:
    """Those who work on the floor and cannot log at a station, since they have no PIN; None where nobody has one."""
    here = [one for one in known if one.person.is_active]
    if not any(one.has_pin for one in here):
        return None
    return [one.person for one in here if one.person.role in (Role.HAND, Role.LEAD) and not one.has_pin]


def person(number: int, at: datetime) -> Known | None:
    """One of them by number."""
    return next(iter(_known(Person.objects.filter(pk=number), at)), None)


def _known(persons: QuerySet[Person], at: datetime) -> list[Known]:
    invitations = Invitation.objects.order_by("made_at", "pk")
    asked = persons.prefetch_related(Prefetch("invitations", queryset=invitations, to_attr="links"))
    pins = set(Pin.objects.values_list("person_id", flat=True))
    return [_one(one, at, one.pk in pins) for one in asked]


def _one(one: Person, at: datetime, has_pin: bool) -> Known:
    link = next((link for link in one.links if link.is_open(at)), None)  # type: ignore[attr-defined]
    return Known(one, _way(one, link), link, has_pin)


def _way(one: Person, link: Invitation | None) -> Way:
    if not one.is_active:
        return Way.OFF
    if not one.role:
        return Way.NAMED
    if one.has_usable_password() or (one.is_station and _signed_in_by_link(one)):
        return Way.IN
    return Way.INVITED if link is not None else Way.NOT_YET


def _signed_in_by_link(station: Person) -> bool:
    """A tablet was signed in with a link, and not shut out since."""
    return any(link.used_at and link.withdrawn_at is None for link in station.links)  # type: ignore[attr-defined]
