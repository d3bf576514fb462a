"""What is written with an entry, and rubbed out with it: readings of its moment, the look that frees with it."""

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared.errors import Refused, TokenReused
from tooling.models import Entry
from tooling.services.ledger import record

# With these, readings may be written.
MEASURING = frozenset({"reading", "repair", "polish", "resurfaced", "inspected", "accepted"})
# As many are looked at for those of one form, which stand right behind its entry.
_MOST = 200


def refuse_without_unit(unit: str) -> None:
    """A number without a unit says nothing. An import keeps one all the same, since that is what was written."""
    if not unit.strip():
        raise Refused(_("Say in which unit: a number without one says nothing."), "unit")


def measure_with(entry: Entry, readings: Sequence[Mapping[str, Any]], *, was_sent: bool) -> list[Entry]:
    """Writes what was measured, an entry a value, as `take_reading` takes each.

    was_sent: the form was written before; then so were its readings, and no other ones come of it. Each has a token
    that follows from that of the entry. Call it in the transaction of the entry.
    """
    for one in readings:
        refuse_without_unit(one.get("unit", ""))
    tokens = [_token(entry.token, place) for place in range(len(readings) + 1)]
    written = Entry.objects.filter(token__in=[one for one in tokens if one is not None]) if was_sent else ()
    if was_sent and {one.token for one in written} != set(tokens[:-1]):
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    who: dict[str, Any] = {"at": entry.at, "by": entry.by, "recorded_by": entry.recorded_by}
    return [
        record(entry.tool, "reading", token=token, **{**one, **who})
        for one, token in zip(readings, tokens[:-1], strict=True)
    ]


def readings_with(entry: Entry) -> list[Entry]:
    """Those that were written with the entry and still stand, in their order."""
    found = _written_with(entry)
    standing = Entry.objects.filter(pk__in=found).standing() if found else Entry.objects.none()
    return list(standing.select_related("by", "tool").order_by("number"))


def measured_since(entry: Entry) -> list[Entry]:
    """The same, with what stands by now in the place of those that were corrected."""
    found, here = set[int](), set(_written_with(entry))
    while here:
        found |= here
        here = set(Entry.objects.filter(replaces__in=here).values_list("pk", flat=True)) - found
    return list(Entry.objects.filter(pk__in=found, kind="reading").standing().order_by("number")) if found else []


def _written_with(entry: Entry) -> list[int]:
    if entry.token is None or entry.kind not in MEASURING:
        return []
    behind = Entry.objects.filter(tool=entry.tool, number__gt=entry.number).order_by("number")[:_MOST]
    tokens = dict(behind.values_list("pk", "token"))
    return [pk for place, (pk, token) in enumerate(tokens.items()) if token == _token(entry.token, place)]


def measured_with(reading: Entry) -> Entry:
    """The entry that a reading was written with, or itself."""
    if reading.kind != "reading" or reading.token is None:
        return reading
    before = Entry.objects.filter(tool=reading.tool, number__lt=reading.number).select_related("by", "replaces")
    for place, one in enumerate(before.order_by("-number")[:_MOST]):
        if one.token is not None and _token(one.token, place) == reading.token:
            return one
    return reading


def freed_token(accepted: UUID | None) -> UUID | None:
    """That of the look which frees a tool with its acceptance; it follows from that of the acceptance."""
    return uuid5(accepted, "freed") if accepted is not None else None


def freed_with(entry: Entry) -> list[Entry]:
    """The look that was written with an acceptance, where that freed the tool and still stands."""
    if entry.kind != "accepted" or entry.token is None:
        return []
    found = Entry.objects.filter(tool=entry.tool, token=freed_token(entry.token)).standing()
    return list(found.select_related("by", "tool"))


def _token(first: UUID | None, place: int) -> UUID | None:
    return uuid5(first, f"reading {place}") if first is not None else None
