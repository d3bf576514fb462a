"""How well a tool holds vacuum, where the part is bagged in it. No limit is built in: none is published."""

from collections.abc import Iterator
from datetime import datetime

from django.db.models import OuterRef, Subquery

from tooling.models import Entry, Kind, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.words.deeds import READING
from tooling.words.usable import vacuum_drop, vacuum_not_measured

# Words of a part's process that say that it is bagged.
BAGGED = ("vacuum", "bag", "infus", "autoclave", "prepreg")
QUANTITY = "vacuum drop"
# Readings before these are of another surface.
_ANEW = ("repair", "polish", "resurfaced")


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The last reading of each mold since its surface was worked on: to know, or that nobody has measured."""
    revision = asked.revision
    if revision is None or not any(word in revision.process.casefold() for word in BAGGED):
        return
    tools = {tool.pk: tool for tool in asked.tools if tool.kind in (Kind.MOLD, Kind.PLUG)}
    read, worked = _newest(list(tools), asked.at)
    for key, tool in tools.items():
        reading, since = read.get(key), worked.get(key)
        if reading is not None and (since is None or reading.at > since):
            known = reading.payload
            text = vacuum_drop(known.get("value", ""), known.get("unit", ""), reading.at, asked.at, asked.shop.zone)
            yield key, Reason("vacuum_drop", tool.code, text, stops=False)
        else:
            text = vacuum_not_measured(repaired=reading is not None)
            yield key, Reason("vacuum_not_measured", tool.code, text, deed=READING, stops=False)


def _newest(tools: list[int], at: datetime) -> tuple[dict[int, Entry], dict[int, datetime]]:
    """By tool its last reading of that quantity, and when its surface was last worked on."""
    before = Entry.objects.filter(at__lte=at).standing().order_by("-at", "-pk")
    readings = before.filter(kind="reading", payload__quantity__icontains=QUANTITY)
    last = Subquery(readings.filter(tool=OuterRef("pk")).values("pk")[:1])
    worked = Subquery(before.filter(kind__in=_ANEW, tool=OuterRef("pk")).values("at")[:1])
    found = Tool.objects.filter(pk__in=tools).values_list("pk", last, worked)
    read = Entry.objects.in_bulk([reading for _key, reading, _at in found if reading is not None])
    return (
        {one.tool_id: one for one in read.values()},
        {key: since for key, _reading, since in found if since is not None},
    )
