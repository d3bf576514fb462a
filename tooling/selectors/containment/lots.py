"""The lots that entries name, that which was used last first."""

from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models import Max, QuerySet, TextField
from django.db.models.fields.json import KT
from django.db.models.functions import Cast

from tooling.calc.containment import LOT_KINDS
from tooling.models import Entry
from tooling.models.serials import key_of, whole_key


@dataclass(slots=True)
class LotUsed:
    """One lot: as it was written last, what it was used for, on how many tools, and when it was used last."""

    lot: str
    last_at: datetime
    kinds: set[str] = field(default_factory=set)
    tools: set[int] = field(default_factory=set)


def lots_used(asked: str = "") -> list[LotUsed]:
    """Every lot with these letters in it, in any case. One query, of which comes a row a lot, tool and kind."""
    used = naming().values_list("said", "kind", "tool_id").annotate(last=Max("at")).order_by("-last", "said")
    wanted = whole_key(asked)
    found: dict[str, LotUsed] = {}
    for lot, kind, tool, at in used:
        key = whole_key(lot)
        if wanted not in key:
            continue
        one = found.setdefault(key, LotUsed(lot, at))
        one.kinds.add(kind)
        one.tools.add(tool)
    return list(found.values())


def naming(lot: str | None = None) -> QuerySet[Entry]:
    """The standing entries that name a lot, or this one in any case; `said` is the lot as it was written."""
    entries = Entry.objects.filter(kind__in=LOT_KINDS, payload__has_key="lot").annotate(
        said=Cast(KT("payload__lot"), TextField())
    )
    if lot is None:
        return entries.standing()
    wanted = whole_key(lot)
    written = entries.order_by().values_list("said", flat=True).distinct()
    return entries.filter(said__in=[said for said in written if whole_key(said) == wanted]).standing()


def as_written(keys: Collection[str]) -> dict[str, str]:
    """Lots by the key that a mark keeps, as they were written last; no query where none is asked for."""
    return {key: one.lot for one in lots_used() if (key := key_of(one.lot)) in keys} if keys else {}
