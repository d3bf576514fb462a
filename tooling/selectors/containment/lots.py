"""The lots that entries name, that which was used last first."""

from dataclasses import dataclass, field
from datetime import datetime

from django.db.models.fields.json import KT

from tooling.calc.containment import LOT_KINDS
from tooling.models import Entry
from tooling.models.serials import whole_key


@dataclass(slots=True)
class LotUsed:
    """One lot: as it was written last, what it was used for, on how many tools, and when it was used last."""

    lot: str
    last_at: datetime
    kinds: set[str] = field(default_factory=set)
    tools: set[int] = field(default_factory=set)


def lots_used(asked: str = "") -> list[LotUsed]:
    """Every lot with these letters in it, in any case. One query, which reads the entries that name a lot."""
    entries = Entry.objects.filter(kind__in=LOT_KINDS, payload__has_key="lot").standing().order_by("-at", "-pk")
    wanted = whole_key(asked)
    found: dict[str, LotUsed] = {}
    for lot, kind, tool, at in entries.values_list(KT("payload__lot"), "kind", "tool_id", "at"):
        key = whole_key(lot)
        if wanted not in key:
            continue
        one = found.setdefault(key, LotUsed(lot, at))
        one.kinds.add(kind)
        one.tools.add(tool)
    return list(found.values())
