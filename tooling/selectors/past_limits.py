"""What was read of tools last, and is past a limit of the shop."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Exists, F, OuterRef, Q, Window
from django.db.models.functions import RowNumber

from tooling.models import Entry, ReadingLimit, Tool
from tooling.models.reading_keys import value_in_si
from tooling.selectors.pull_counts import ANEW
from tooling.selectors.reading_limits import Limit, limits_for
from tooling.selectors.readings import key_of_entry

# So many of a tool's newest values are looked at: more than a look at all of its spots writes.
MOST = 60


@dataclass(frozen=True, slots=True)
class PastLimit:
    """The last value at one spot, in the unit in which it is compared, with the limit that it is past."""

    entry: Entry
    value: float
    limit: Limit

    @property
    def key(self) -> int:
        """Of the tool."""
        return self.entry.tool_id


def has_limit(kind: str, tool: str, at: datetime) -> Exists:
    """Whether the shop had a limit for the tool of a row. kind, tool: what that is called there."""
    wanted = Q(tool=OuterRef(tool)) | Q(tool=None, kind=OuterRef(kind))
    return Exists(ReadingLimit.objects.filter(wanted).held(at))


def past_limits(tools: Iterable[Tool], at: datetime) -> list[PastLimit]:
    """As of a moment, since the last work on the surface, the worst of each series. Three queries, none without tools.

    Where no spot was named, what was read at one time is one spot.
    """
    those = list(tools)
    if not those:
        return []
    holds = limits_for(those, at)
    met: dict[tuple[object, ...], datetime] = {}
    worst: dict[tuple[object, ...], PastLimit] = {}
    for entry in _newest(those, at):
        key = key_of_entry(entry)
        limit = holds[entry.tool_id].get(key)
        value = value_in_si(entry.payload.get("value", ""), entry.payload.get("unit", ""))
        spot = (entry.tool_id, key, str(entry.payload.get("spot", "")).casefold())
        if limit is None or value is None or met.setdefault(spot, entry.at) != entry.at:
            continue
        one, series = PastLimit(entry, float(value), limit), (entry.tool_id, key)
        if limit.is_past(one.value) and (series not in worst or _is_worse(one, worst[series])):
            worst[series] = one
    return sorted(worst.values(), key=lambda one: key_of_entry(one.entry))


def _newest(tools: Sequence[Tool], at: datetime) -> Iterator[Entry]:
    """The newest of each tool since the last work on it.

    The works come first: whether one was later is asked once a tool, not of the database for each reading.
    """
    keys = [tool.pk for tool in tools]
    until = Entry.objects.filter(tool__in=keys, at__lte=at)
    last: dict[int, tuple[datetime, int]] = {}
    worked = until.filter(kind__in=ANEW).standing().order_by("-at", "-pk")
    for tool, when, pk in worked.values_list("tool_id", "at", "pk"):
        last.setdefault(tool, (when, pk))
    read = until.filter(kind="reading").standing()
    if len(last) == len(keys):
        read = read.filter(at__gte=min(when for when, _pk in last.values()))
    place = Window(RowNumber(), partition_by="tool", order_by=[F("at").desc(), F("pk").desc()])
    for entry in read.alias(place=place).filter(place__lte=MOST).order_by("-at", "-pk"):
        if entry.tool_id not in last or (entry.at, entry.pk) > last[entry.tool_id]:
            yield entry


def _is_worse(one: PastLimit, other: PastLimit) -> bool:
    return one.value > other.value if one.limit.row.worse == "up" else one.value < other.value
