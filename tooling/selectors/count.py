"""What was scanned last at a place."""

from datetime import datetime

from tooling.models import Entry, Person, Place, Shop
from tooling.selectors.just_written import JustWritten, just_written


def last_seen(key: int, person: Person, now: datetime, shop: Shop) -> tuple[JustWritten, Place | None] | None:
    """What somebody wrote last and where it was seen (None: nowhere), while the person can rub it out."""
    related = "tool__summary__home", "tool__summary__in_mold_of"
    entry = Entry.objects.filter(pk=key, kind="moved").select_related(*related).first()
    written = just_written(entry.tool, person, now, shop) if entry is not None else None
    if entry is None or written is None or written.entry.pk != key:
        return None
    return written, Place.objects.filter(pk=entry.payload.get("place")).first()
