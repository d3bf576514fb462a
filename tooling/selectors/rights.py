"""Who might accept, free or approve, on any day; and what was known of that at a moment."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from tooling.calc.right_ends import known_end
from tooling.models import Entry, May, Person, Right, Role, Shop
from tooling.selectors.hands import hands

# Before anybody was given the right: any hand that is offered at a station frees, the two others are a lead's.
ROLES_FOR = {
    May.FREE: frozenset({Role.HAND, Role.LEAD, ""}),
    May.ACCEPT: Role.CAN_LEAD,
    May.APPROVE: Role.CAN_LEAD,
}


@dataclass(frozen=True, slots=True)
class Who:
    """Who may do one thing on a day. `asked`: by a right of theirs, which stands beside each; else by their role.

    `given`: who has the right that day, asked for or not.
    """

    may: May
    asked: bool
    people: list[tuple[Person, Right | None]]
    given: list[tuple[Person, Right]]


def asked_for(may: str, day: date | None = None) -> bool:
    """Whether a right is asked at all: formal records are on, and somebody was given it, on that day or before."""
    return Shop.current().formal_records and was_given(may, day)


def was_given(may: str, day: date | None = None) -> bool:
    """Whether anybody was ever given a right that began by that day; None: that begins whenever it does."""
    given = Right.objects.filter(may=may)
    return (given if day is None else given.filter(since__lte=day)).exists()


def might(person: Person, may: str, day: date, *, asked: bool | None = None) -> bool:
    """Whether somebody may do it on that day: by a right of theirs where one is asked, else by their role.

    asked: whether one is, where that is known already.
    """
    asked = asked_for(may, day) if asked is None else asked
    return right_of(person, may, day) is not None if asked else by_role(person, may)


def by_role(person: Person, may: str) -> bool:
    """Whether somebody's role does, while nobody was given the right."""
    return person.role in ROLES_FOR[May(may)]


def right_of(person: Person, may: str, day: date, known_at: datetime | None = None) -> Right | None:
    """The right by which somebody may do it on that day; None where they have none, as was known at a moment."""
    given = Right.objects.filter(person=person, may=may)
    if known_at is None:
        return given.on(day).first()
    then = given.filter(since__lte=day, given_at__lte=known_at)
    return next((one for one in then if _known(one, day, known_at)), None)


def right_behind(entry: Entry, may: str, zone: tzinfo) -> Right | None:
    """The right of whoever an entry names, as it was known then; None where it names nobody, or they had none."""
    day = entry.at.astimezone(zone).date()
    return right_of(entry.by, may, day, entry.recorded_at) if entry.by is not None else None


def rights_of(person: Person) -> list[Right]:
    """All that were ever given to somebody, the latest first."""
    found = Right.objects.filter(person=person).select_related("given_by", "ended_by")
    return list(found.order_by("-since", "-pk"))


def who_might(may: str, day: date) -> Who:
    """Everybody who may do it on that day, by name."""
    return who_might_each((May(may),), day)[0]


def who_might_each(wanted: Iterable[May], day: date) -> list[Who]:
    """The same for several, in two queries."""
    wanted, formal = list(wanted), Shop.current().formal_records
    begun = Right.objects.filter(may__in=wanted, since__lte=day).select_related("person", "given_by")
    rows = sorted(begun, key=lambda one: one.person.name_key)
    asked = {one.may for one in rows} if formal else set()
    people = list(hands()) if len(asked) < len(wanted) else []
    return [_who(may, day, rows, people, asked=may in asked) for may in wanted]


def _who(may: May, day: date, rows: list[Right], people: list[Person], *, asked: bool) -> Who:
    held = [one for one in rows if one.may == may and (one.until is None or one.until >= day)]
    given = [(one.person, one) for one in held if one.person.is_active]
    by_role = [(one, None) for one in people if one.role in ROLES_FOR[may]]
    return Who(may, asked, [*given] if asked else [*by_role], given)


def _known(one: Right, day: date, known_at: datetime) -> bool:
    """Whether it held on a day by what had been said of its end then; a sheet may leave out the ends before."""
    if not one.earlier and one.ended_at is not None and known_at < one.ended_at:
        return True
    until = known_end(one.earlier, one.until, known_at)
    return until is None or until >= day
