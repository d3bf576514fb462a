"""Rows for tests that look below the services: written as the services write them, without asking the rules."""

from datetime import UTC, datetime, timedelta

from tooling.models import Entry, Summary, Tool
from tooling.services import chain

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def make_tool(code: str = "K-1", kind: str = "mold", **columns) -> Tool:
    return Tool.objects.create(code=code, kind=kind, name=columns.pop("name", f"Tool {code}"), **columns)


def write(tool: Tool, kind: str = "pull", **columns) -> Entry:
    """Write the next entry of a tool, chained, and count it in the summary."""
    summary, _made = Summary.objects.get_or_create(tool=tool)
    number = summary.count + 1
    moment = NOON + timedelta(hours=number)
    entry = Entry(**{"tool": tool, "number": number, "kind": kind, "at": moment, "recorded_at": moment, **columns})
    entry.link = chain.link(summary.head or chain.beginning(tool.pk), chain.fields_of(entry))
    entry.save()
    summary.count, summary.head = number, entry.link
    summary.save()
    return entry
