"""What goes along where another entry stands for one: pictures, that a coat was wiped, what the lead was told, and the
line of a count.
"""

from collections.abc import Mapping
from typing import Any

from tooling.models import CountMark, Entry, Found, LeadNote, Picture, PlaceCount, Summary, Wipe
from tooling.selectors.place_counts import lies_within


def take_along(old: Entry, new: Entry) -> None:
    """Hangs what was given with an entry on the one that stands for it, on whatever tool. Call it under the locks."""
    _pictures(old, new)
    if new.kind == "coat":
        Wipe.objects.filter(coat=old).update(coat=new)
    if new.payload.get("counted"):
        found = Found.SEEN if new.payload.get("place") else Found.MISSING
        CountMark.objects.filter(entry=old).update(entry=new, tool=new.tool, found=found, at=new.at, by=new.by)
    told = LeadNote.objects.filter(entry=old)
    if told.exists():
        # The ledger told the lead of the new one by itself; whether one saw it is known of the old one.
        LeadNote.objects.filter(entry=new).delete()
        told.update(entry=new)


def still_counted(facts: Mapping[str, Any], changes: Mapping[str, Any]) -> bool:
    """Whether what a count met is still said to have been there; true as well of what no count met."""
    place, number = changes.get("place"), facts.get("counted")
    if place is None or not number:
        return True
    counted = PlaceCount.objects.filter(number=number).first()
    return counted is None or lies_within(place.pk, counted.place_id)


def in_place_of(entry: Entry) -> Entry:
    """What stands in the entry's place now, or what stood there last; by itself it is the entry."""
    entries = Entry.objects.select_related("tool", "by", "recorded_by")
    while (later := entries.filter(replaces=entry).first()) is not None:
        entry = later
    return entry


def locked_in_place_of(entry: Entry) -> Entry:
    """The same, and nobody corrects it until the transaction ends."""
    Summary.objects.select_for_update().get(tool=entry.tool_id)
    return in_place_of(entry)


def _pictures(old: Entry, new: Entry) -> None:
    given = Picture.objects.filter(entry=old)
    if old.tool_id == new.tool_id:
        given.update(entry=new)
        return
    was_main = given.filter(main=True).exists()
    given.update(entry=new, tool=new.tool, main=False)
    following = Picture.objects.on().filter(tool=old.tool, entry=None).first() if was_main else None
    if following is not None:
        following.main = True
        following.save(update_fields=["main"])
