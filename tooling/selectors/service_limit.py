"""How hot a tool may get: the lowest of its own number and of what the fillers in its surface stand."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo
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


def limits_from(
    tools: Iterable[Tool], repairs: Iterable[Entry], at: datetime, zone: tzinfo, system: str = METRIC
) -> dict[int, ServiceLimit]:
    """The same, where the standing repairs and new surfaces of the tools were read already, in their order."""
    read = list(tools)
    found = {tool.pk: _of_tool(tool, system) for tool in read if tool.max_service_c is not None}
    keys = {tool.pk for tool in read}
    for entry, (celsius, typed) in _known(one for one in repairs if one.tool_id in keys):
        lowest = found.get(entry.tool_id)
        if lowest is None or celsius < lowest.celsius:
            said = limits.in_units(celsius, system, typed)
            source = limits.repair_says(entry.at, said, at, zone)
            found[entry.tool_id] = ServiceLimit(celsius, said, source, entry)
    return found


def _limits(tools: list[Tool], at: datetime, system: str) -> dict[int, ServiceLimit]:
    keys = [tool.pk for tool in tools]
    repairs = Entry.objects.filter(tool__in=keys, kind__in=("repair", "resurfaced"), at__lte=at).standing()
    read = list(repairs.order_by("at", "id"))
    zone = Shop.current().zone if _known(read) else UTC
    return limits_from(tools, read, at, zone, system)


def _of_tool(tool: Tool, system: str) -> ServiceLimit:
    celsius = tool.max_service_c or Decimal(0)
    said = limits.in_units(celsius, system, tool.as_typed.get("max_service_c"))
    return ServiceLimit(celsius, said, limits.tool_says(tool.code, said))


def _known(entries: Iterable[Entry]) -> list[tuple[Entry, tuple[Decimal, list[str]]]]:
    """The repairs in the surfaces as they are, whose fillers are known.

    A new surface takes those before it away, not those of that moment.
    """
    new: dict[int, datetime] = {}
    repairs = []
    for entry in entries:
        if entry.kind == "resurfaced":
            new[entry.tool_id] = entry.at
        else:
            repairs.append(entry)
    there = (entry for entry in repairs if entry.tool_id not in new or entry.at >= new[entry.tool_id])
    return [(entry, known) for entry in there if (known := limits.stands(entry.payload)) is not None]
