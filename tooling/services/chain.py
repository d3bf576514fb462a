"""The chain: each entry of a tool carries a digest over itself and over the link before it.

Change a stored row, delete one, swap two or put one between, and the links no longer agree. A cut-off end agrees with
itself, but not with the count and head in the tool's summary, nor with a seal. This shows tampering and stops nobody:
whoever may write to the database and runs this very code can make a new chain. Only a seal that was printed or
carried away speaks against that.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from itertools import groupby
from operator import itemgetter
from typing import Any
from uuid import UUID

from django.db import connections
from django.db.models import F, OuterRef, QuerySet, Subquery, TextField
from django.db.models.functions import Cast
from django.utils.translation import gettext as _

from tooling.models import Entry, Tool
from tooling.models.entries import check_payload
from tooling.services.findings import Finding

# What a link covers, in this order: every column but the row's own id, which is not known before the row is written,
# and the tool, which the first link stands on. Other entries are named by their number within the tool.
COLUMNS = (
    "number", "kind", "at", "recorded_at", "count", "area", "came_off", "film", "part", "serial", "release_system",
    "earliest_pull", "mold_id", "by_id", "recorded_by_id", "replaces__number", "voids__number", "token", "payload",
)  # fmt: skip

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


def _plain(value: Any) -> int | str:
    """The one spelling of what JSON does not know, whichever database it came from."""
    if isinstance(value, datetime):
        return (value - _EPOCH) // _MICROSECOND
    if isinstance(value, UUID):
        return value.hex
    raise TypeError(f"A link covers no {type(value).__name__}: {value!r}.")


_encode = json.JSONEncoder(sort_keys=True, separators=(",", ":"), allow_nan=False, default=_plain).encode


def beginning(tool: int) -> str:
    """What the first link of a tool (its primary key) stands on."""
    return sha256(f"history of tool {tool}".encode()).hexdigest()


def canonical(fields: Sequence[Any]) -> bytes:
    """The values of COLUMNS as bytes: a JSON list in ASCII, keys sorted, instants in microseconds since 1970 UTC."""
    return _encode(fields).encode()


def link(previous: str, fields: Sequence[Any]) -> str:
    """The link of an entry with these values of COLUMNS, after the link before it."""
    return sha256(previous.encode() + b"\n" + canonical(fields)).hexdigest()


def fields_of(entry: Entry) -> tuple[Any, ...]:
    """The values of COLUMNS of an entry about to be written; refuses a payload that would not come back equal."""
    check_payload(entry.payload)
    targets = {
        "replaces__number": entry.replaces.number if entry.replaces else None,
        "voids__number": entry.voids.number if entry.voids else None,
    }
    return tuple(targets[name] if name in targets else getattr(entry, name) for name in COLUMNS)


def verify(tools: Iterable[int] | None = None) -> Iterator[Finding]:
    """Everything wrong with the chains of these tools (primary keys), or of all.

    Entries are streamed, so a long history needs no memory; people may go on working meanwhile.
    """
    chosen = Tool.objects.all() if tools is None else Tool.objects.filter(pk__in=list(tools))
    entries = Entry.objects.all() if tools is None else Entry.objects.filter(tool__in=chosen)
    for (tool, code), history in groupby(_stream(entries), key=itemgetter(0, 1)):
        yield from _walk(tool, code, history)
    elsewhere = (
        entries.exclude(replaces=None, voids=None).exclude(replaces__tool=F("tool")).exclude(voids__tool=F("tool"))
    )
    for code, number in elsewhere.values_list("tool__code", "number"):
        yield Finding(code, number, _("replaces or voids an entry of another tool"))
    yield from _ends(chosen)


# SQLite keeps these as text. Read as such they cost a third of what they cost as objects, and a text that is no
# time or no JSON becomes a finding instead of a failure.
_TIMES = tuple(COLUMNS.index(name) for name in ("at", "recorded_at", "earliest_pull"))
_PAYLOAD = COLUMNS.index("payload")
_AS_TEXT = ("at", "recorded_at", "earliest_pull", "token", "payload")
_EPOCH_THERE = _EPOCH.replace(tzinfo=None)


def _stream(entries: QuerySet[Entry]) -> Iterator[Sequence[Any]]:
    """Tool, its code, id, link, then COLUMNS as they were linked, tool by tool in recording order."""
    entries, columns = entries.order_by("tool_id", "number"), list(COLUMNS)
    on_sqlite = connections[entries.db].vendor == "sqlite"
    if on_sqlite:
        entries = entries.annotate(**{f"{name}_text": Cast(name, TextField()) for name in _AS_TEXT})
        columns = [f"{name}_text" if name in _AS_TEXT else name for name in COLUMNS]
    rows = entries.values_list("tool_id", "tool__code", "id", "link", *columns).iterator(chunk_size=5000)
    return map(_from_texts, rows) if on_sqlite else rows


def _from_texts(row: Sequence[Any]) -> Sequence[Any]:
    fields = list(row[4:])
    try:
        for place in _TIMES:
            if fields[place] is not None:
                fields[place] = (datetime.fromisoformat(fields[place]) - _EPOCH_THERE) // _MICROSECOND
        fields[_PAYLOAD] = json.loads(fields[_PAYLOAD])
    except (TypeError, ValueError):
        pass  # what is left as text matches no link
    return (*row[:4], *fields)


def _walk(tool: int, code: str, history: Iterable[Sequence[Any]]) -> Iterator[Finding]:
    """Follow one chain from its beginning; after a fault go on from what is stored, to name each fault once."""
    previous, number, newest = beginning(tool), 0, 0
    for row in history:
        id, stored, fields = row[2], row[3], row[4:]
        if fields[0] != number + 1:
            yield Finding(code, number + 1, _("is missing"))
        elif link(previous, fields) != stored:
            yield Finding(code, fields[0], _("was changed after it was written, or the one before it was"))
        if id <= newest:
            yield Finding(code, fields[0], _("stands in another order than it was recorded in"))
        previous, number, newest = stored, fields[0], id


def _ends(tools: Any) -> Iterator[Finding]:
    """Compare the last entry of each tool with its summary, in one statement: both are of the same moment."""
    last = Entry.objects.filter(tool=OuterRef("pk")).order_by("-number")
    rows = tools.order_by("code").values_list(
        "code",
        "summary__count",
        "summary__head",
        Subquery(last.values("number")[:1]),
        Subquery(last.values("link")[:1]),
    )
    for code, count, head, number, stored in rows.iterator():
        if (count or 0) != (number or 0):
            what = _("the history has %(number)d entries, its summary counts %(count)d")
            yield Finding(code, number, what % {"number": number or 0, "count": count or 0})
        elif number and head != stored:
            yield Finding(code, number, _("is not the entry that the summary names as the last"))
