"""Whose hands hold a tool: who stopped it, who wrote that down, and who was said to have before a correction."""

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from django.db.models import Min, Q

from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Person, Role, Summary, Tool
from tooling.services.absorb import Rules
from tooling.services.checks import state_before

# A tap on the wrong tool is taken back by whoever made it.
TAKEN_BACK_WITHIN = timedelta(minutes=5)
_STOPS = Q(kind="hold") | Q(kind="inspected", payload__passed=False)


def in_their_name(by: Person | None, recorded_by: Person | None) -> Person | None:
    """Who writes down what another person did; None where they do it themselves, or a station, which is nobody."""
    return recorded_by if recorded_by is not None and recorded_by != by and not recorded_by.is_station else None


def hands_that_held(tool: Tool, entry: Entry, made: Fact, rules: Rules) -> set[Any]:
    """Whose hands held a tool just before a look, which is drafted; those of a failed look that it corrects count."""
    corrected = entry.replaces
    failed = corrected is not None and corrected.payload.get("passed") is not True
    own = {corrected.by_id} if corrected is not None and failed else set()
    return (state_before(tool, made, rules).held_by | own) - {None}


def all_who_held(summary: Summary) -> set[Any]:
    """The same of what holds it now, with who wrote that down, and who was said to have before it was corrected."""
    first = Entry.objects.filter(pk__in=summary.state.get("holds", {}).values()).aggregate(at=Min("at"))["at"]
    if first is None:
        return set()
    return _of_all_versions(Entry.objects.filter(_STOPS, tool=summary.tool_id, at__gte=first).standing())


def hands_of_stop(entry: Entry, held_since: Any) -> set[Any]:
    """The hands of an entry that stops its tool still; none where it stops nothing."""
    stops = entry.kind == "hold" or (entry.kind == "inspected" and entry.payload.get("passed") is False)
    return _of_all_versions([entry]) if stops and held_since is not None and entry.at >= held_since else set()


def _of_all_versions(entries: Iterable[Entry]) -> set[Any]:
    found: set[Any] = set()
    here: set[Any] = {one.pk for one in entries}
    while here:
        rows = Entry.objects.filter(pk__in=here).values_list("by", "recorded_by", "recorded_by__role", "replaces")
        here = set()
        for by, writer, role, before in rows:
            found |= {by} | ({writer} if role not in Role.SHARED else set())
            here |= {before} - {None}
    return found - {None}
