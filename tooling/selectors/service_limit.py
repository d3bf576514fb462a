"""How hot a tool may get: the lowest of its own number and of what the fillers in its surface stand."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from shared.units import METRIC
from tooling.models import Entry, Shop, Tool
from tooling.words import limits
from tooling.words.measures import Measure


@dataclass(frozen=True, slots=True)
class ServiceLimit:
    """The limit of one surface: in °C, in the reader's units, and in words where it comes from.

    `repair`: the entry whose filler decides; None where the tool's own number does.
    """

    celsius: Decimal
    said: Measure
    source: str
    repair: Entry | None = None


def service_limit(tool: Tool, at: datetime, system: str = METRIC) -> ServiceLimit | None:
    """The limit of a tool's own surface at a moment; None where nobody knows one."""
    return _limits([tool], at, system).get(tool.pk)


def service_limits(tools: Iterable[int], at: datetime, system: str = METRIC) -> dict[int, ServiceLimit]:
    """The same for each of these tools that has one, by their keys: a mold and the inserts in it, in three queries."""
    return _limits(list(Tool.objects.filter(pk__in=list(tools))), at, system)


def _limits(tools: list[Tool], at: datetime, system: str) -> dict[int, ServiceLimit]:
    own = {tool.pk: tool.max_service_c for tool in tools}
    found = {tool.pk: _of_tool(tool, system) for tool in tools if tool.max_service_c is not None}
    repairs = [(entry, known) for entry in _repairs(own, at) if (known := limits.stands(entry.payload)) is not None]
    zone = Shop.current().zone if repairs else None
    for entry, (celsius, typed) in repairs:
        lowest = found.get(entry.tool_id)
        if zone is not None and (lowest is None or celsius < lowest.celsius):
            said = limits.in_units(celsius, system, typed)
            source = limits.repair_says(entry.at, said, at, zone)
            found[entry.tool_id] = ServiceLimit(celsius, said, source, entry)
    return found


def _of_tool(tool: Tool, system: str) -> ServiceLimit:
    celsius = tool.max_service_c or Decimal(0)
    said = limits.in_units(celsius, system, tool.as_typed.get("max_service_c"))
    return ServiceLimit(celsius, said, limits.tool_says(tool.code, said))


def _repairs(tools: Iterable[int], at: datetime) -> list[Entry]:
    """The repairs in the surfaces as they are: a new surface takes those before it away, not those of that moment."""
    kinds = ("repair", "resurfaced")
    entries = Entry.objects.filter(tool__in=list(tools), kind__in=kinds, at__lte=at).standing()
    new: dict[int, datetime] = {}
    repairs = []
    for entry in entries.order_by("at", "id"):
        if entry.kind == "resurfaced":
            new[entry.tool_id] = entry.at
        else:
            repairs.append(entry)
    return [entry for entry in repairs if entry.tool_id not in new or entry.at >= new[entry.tool_id]]
