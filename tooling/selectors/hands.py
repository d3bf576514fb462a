"""The names that are offered where hands are asked for, and what a station asks of each besides."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import QuerySet

from tooling.models import Person, Pin, Role, Shift
from tooling.services.shifts import asks_pins

# Whoever was in within so long is of this shift or the last: offered first.
LATELY = timedelta(hours=24)


def hands() -> QuerySet[Person]:
    """Whose hands it can have been: people of the floor first, then those who are only named."""
    floor = Role.HAND, Role.LEAD, ""
    return Person.objects.filter(is_active=True, role__in=floor).order_by("-role", "name_key")


@dataclass(frozen=True, slots=True)
class Offered:
    """A name at a station. `until`: in until then, without a PIN. `wants_pin`: the PIN is asked. Neither: a name does.

    `no_pin`: others have one, this person has none and is not let in.
    """

    person: Person
    until: datetime | None
    wants_pin: bool
    no_pin: bool


def offered(station: Person, people: QuerySet[Person], at: datetime, *, anew: bool = False) -> list[Offered]:
    """The names at a station: those of this shift and the last first, and within that always in one order.

    `anew`: for a deed that wants the PIN each time, also of those who are in.
    """
    last = dict(Shift.objects.filter(station=station).values_list("person", "until"))
    asks = asks_pins()
    with_pin = set(Pin.objects.values_list("person_id", flat=True)) if asks else set()
    found = []
    for person in people:
        until = last.get(person.pk)
        until = until if asks and not anew and until is not None and until > at else None
        asked = asks and until is None
        found.append(Offered(person, until, asked and person.pk in with_pin, asked and person.pk not in with_pin))
    return sorted(found, key=lambda one: last.get(one.person.pk, at - LATELY) <= at - LATELY)
