"""Counts of places and the entries that they wrote: each says what the other says."""

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import CountMark, Entry, Found, PlaceCount
from tooling.services.findings import Finding


def disagreements() -> Iterator[Finding]:
    """Entries whose count, or whose line in it, is not there; lines of counts whose entry says otherwise."""
    of = dict(PlaceCount.objects.values_list("number", "pk"))
    entries = _entries()
    marks = dict(CountMark.objects.exclude(entry=None).values_list("entry", "count"))
    for entry in entries.values():
        where = entry["tool__code"], entry["number"]
        if entry["counted"] not in of:
            yield Finding(*where, _("there is no count %(number)s") % {"number": entry["counted"]})
        elif entry["pk"] not in marks and entry["stands"]:
            yield Finding(*where, _("count %(number)s has no line of it") % {"number": entry["counted"]})
    for mark in CountMark.objects.exclude(found=Found.UNKNOWN).select_related("count", "tool").iterator(chunk_size=500):
        said = entries.get(mark.entry_id or 0)
        if said is None or not _agree(mark, said):
            text = _("the history does not say that count %(number)s met or missed it")
            code = mark.tool.code if mark.tool else ""
            yield Finding(code, said["number"] if said is not None else None, text % {"number": mark.count.number})


def _entries() -> dict[int, dict[str, Any]]:
    """What names a count, by key."""
    stands = set(Entry.objects.filter(kind="moved", payload__has_key="counted").standing().values_list("pk", flat=True))
    rows = Entry.objects.filter(kind="moved", payload__has_key="counted").order_by("pk")
    columns = ("pk", "number", "tool", "tool__code", "payload__counted", "payload__place", "at", "by")
    return {
        row["pk"]: {
            **row, "counted": row["payload__counted"], "place": row["payload__place"], "stands": row["pk"] in stands
        }
        for row in rows.values(*columns)
    }  # fmt: skip


def _agree(mark: CountMark, said: dict[str, Any]) -> bool:
    met = Found.SEEN if said["place"] is not None else Found.MISSING
    says = said["counted"], said["tool"], met, said["at"], said["by"]
    return (mark.count.number, mark.tool_id, mark.found, mark.at, mark.by_id) == says
