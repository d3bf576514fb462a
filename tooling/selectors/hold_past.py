"""What held a tool once, and does so no more because it is void or was corrected."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from tooling.calc.entry import severity
from tooling.calc.recipe import RecipeBook
from tooling.models import Entry, Tool
from tooling.selectors.history import system_code

_HOLDING = Q(kind__in=("hold", "reinstated")) | Q(kind="inspected", payload__passed=False)
_PULLS = Q(kind="pull") & (Q(came_off__gt="") | Q(payload__tool_damaged=True))
_GONE = Q(voided_by__isnull=False) | Q(replaced_by__isnull=False)


@dataclass(frozen=True, slots=True)
class Past:
    """An entry as it held the tool last; the one that took it back, or what stands in its place and holds nothing."""

    entry: Entry
    void: Entry | None = None
    changed: Entry | None = None


def past_holds(tool: Tool, at: datetime, stand: Collection[int], book: RecipeBook) -> Iterator[Past]:
    """Each once, in three queries. stand: the keys of the entries that hold it by its history, or did."""
    of_tool = Entry.objects.filter(tool=tool).select_related("tool", "by", "recorded_by")
    gone = of_tool.filter(_HOLDING | _PULLS, _GONE, at__lte=at).order_by("pk")
    later = {one.replaces_id: one for one in of_tool.filter(replaces__isnull=False)}
    voids = {one.voids_id: one for one in of_tool.filter(voids__isnull=False)}
    last: dict[int, tuple[Entry, Entry]] = {}
    for entry in gone:
        if entry.kind != "pull" or _held(entry, tool, book):
            end = _end(entry, later)
            last[end.pk] = (entry, end)
    for entry, end in last.values():
        if end.pk in voids:
            yield Past(entry, void=voids[end.pk])
        elif end.pk not in stand:
            yield Past(entry, changed=end)


def _end(entry: Entry, later: dict[int | None, Entry]) -> Entry:
    while entry.pk in later:
        entry = later[entry.pk]
    return entry


def _held(pull: Entry, tool: Tool, book: RecipeBook) -> bool:
    """Whether it marked the surface or came off as hard as stops it, by the recipe that was in force then."""
    if pull.payload.get("surface", tool.pk) != tool.pk and pull.payload.get("tool_damaged"):
        return False
    recipe = book.at(system_code(tool), pull.at)
    line = recipe.hold_from if recipe is not None else "lost"
    return bool(pull.payload.get("tool_damaged")) or severity(pull.came_off) >= severity(line)
