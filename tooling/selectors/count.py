"""What a count of a place has met, and what it has not."""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from tooling.models import Entry, Person, Place, Shop, Summary
from tooling.selectors.just_written import JustWritten, just_written
from tooling.selectors.places import lying_at

# So many are named, the others counted.
NAMED = 20


@dataclass(frozen=True, slots=True)
class Unmet:
    """What should lie at a place and was not seen there since the count began: the first of them, and how many more."""

    named: list[Summary]
    more: int


def unmet(place: Place, since: datetime) -> Unmet:
    """What should lie at a place and was not seen there since the count began, in code order."""
    missing = lying_at(place).filter(Q(seen_at=None) | Q(seen_at__lt=since))
    named = list(missing[: NAMED + 1])
    return Unmet(named[:NAMED], missing.count() - NAMED if len(named) > NAMED else 0)


def last_seen(key: int, person: Person, now: datetime, shop: Shop) -> tuple[JustWritten, Place] | None:
    """What a count wrote last and where it was seen, while the person can rub it out."""
    related = "tool__summary__home", "tool__summary__in_mold_of"
    entry = Entry.objects.filter(pk=key, kind="moved").select_related(*related).first()
    written = just_written(entry.tool, person, now, shop) if entry is not None else None
    if entry is None or written is None or written.entry.pk != key:
        return None
    place = Place.objects.filter(pk=entry.payload.get("place")).first()
    written.entry.tool = entry.tool
    return (written, place) if place is not None else None
