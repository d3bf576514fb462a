"""Which limit of the shop holds for what is read of a tool: its own, else that of its kind."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from tooling.models import Kind, ReadingLimit, Tool
from tooling.models.reading_keys import Key, key_of, value_in_si


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit with its number in the unit in which readings are compared."""

    row: ReadingLimit
    value: float

    def is_past(self, reading: float) -> bool:
        """Whether a reading is beyond it; exactly the limit is not."""
        return reading > self.value if self.row.worse == "up" else reading < self.value


def limits() -> list[ReadingLimit]:
    """All that ever held, kind by kind, those of all tools of a kind first, of one thing the earliest first."""
    rows = ReadingLimit.objects.select_related("tool", "set_by", "ended_by")
    kinds = list(Kind.values)
    return sorted(
        rows,
        key=lambda one: (
            kinds.index(one.kind),
            one.tool.code if one.tool else "",
            *key(one),
            one.until is None,
            one.until,
            one.pk,
        ),
    )


def limits_for(tools: Iterable[Tool], at: datetime) -> dict[int, dict[Key, Limit]]:
    """By the key of each tool what held for it at a moment. One query, however many."""
    those = list(tools)
    wanted = Q(kind__in={tool.kind for tool in those}, tool=None) | Q(tool__in=[tool.pk for tool in those])
    rows = list(ReadingLimit.objects.filter(wanted).held(at))
    return {tool.pk: _of_one(tool, rows) for tool in those}


def _of_one(tool: Tool, rows: Iterable[ReadingLimit]) -> dict[Key, Limit]:
    found: dict[Key, Limit] = {}
    # Its own last: they take the place of those of its kind.
    for row in sorted(rows, key=lambda one: one.tool_id is not None):
        value = value_in_si(row.limit, row.unit)
        if value is not None and (row.tool_id == tool.pk or (row.tool_id is None and row.kind == tool.kind)):
            found[key(row)] = Limit(row, float(value))
    return found


def key(row: ReadingLimit) -> Key:
    """What it is a limit of."""
    return key_of(row.quantity, row.unit, row.geometry)
