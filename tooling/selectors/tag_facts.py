"""What would stand on a tool's tag now, as plain text, to be compared with what was printed."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from typing import Protocol

from tooling.models import TagWanted, Tool
from tooling.models.fields import plain

# What is printed of a tool, and where it stands. Its home first: another one means that it was moved.
_COLUMNS = {
    "home": "summary__home__name",
    "code": "code",
    "name": "name",
    "mass_kg": "mass_kg",
    "lift": "lift",
    "max_service_c": "max_service_c",
    "owner": "owner",
}
SAID = tuple(_COLUMNS)


class Printed(Protocol):
    """What is known of the last tag of a tool."""

    said: dict[str, str]
    printed_at: datetime | None
    spoilt_at: datetime | None
    lost_at: datetime | None


def facts(tools: Iterable[int]) -> dict[int, dict[str, str]]:
    """What a tag of each of these tools would say now, by the tool's key."""
    rows = Tool.objects.filter(pk__in=list(tools)).values_list("pk", *_COLUMNS.values())
    return {pk: dict(zip(SAID, map(_text, values), strict=True)) for pk, *values in rows}


def differs(said: dict[str, str], now: dict[str, str]) -> list[str]:
    """The names of what stands otherwise on the tag."""
    return [name for name in SAID if said.get(name, "") != now[name]]


def why(tag: Printed, now: dict[str, str]) -> str:
    """Why another tag is wanted; "" where none is."""
    if tag.lost_at is not None:
        return TagWanted.LOST
    if tag.printed_at is None:
        return TagWanted.NEW
    if tag.spoilt_at is not None:
        return TagWanted.SPOILT
    other = differs(tag.said, now)
    if not other:
        return ""
    return TagWanted.MOVED if other[0] == "home" else TagWanted.CHANGED


def _text(value: object) -> str:
    if isinstance(value, Decimal):
        return f"{plain(value):f}"
    return "" if value is None else str(value)
