"""What happened to a tool beside its readings, in order, with the pulls that were counted by then."""

from collections.abc import Iterable
from datetime import UTC, datetime

from tooling.calc.recipe import RecipeBook
from tooling.models import Entry, Kind, Tool
from tooling.selectors.history import History

# After these the surface is another, and readings begin anew.
ANEW = ("repair", "polish", "resurfaced")
_START = "starting_state"
_Place = tuple[datetime, int]


def counted(tool: Tool, at: datetime, kinds: Iterable[str]) -> tuple[list[tuple[Entry, int]], int]:
    """The standing entries of these kinds up to a moment, each with the pulls by then; and those at the moment.

    Of a trim mask it is parts cut. The same number as the state that a fold up to there would have, without one: two
    queries, one more where something was corrected; for an insert those of the molds that it was in.
    """
    own = Entry.objects.filter(tool=tool, at__lte=at)
    wanted = list(own.filter(kind__in=[*kinds, _START]).standing().select_related("by"))
    pulls, roots = _pulls(tool, at, wanted)
    if tool.kind != Kind.INSERT and any(entry.replaces_id for entry in wanted):
        roots = roots or _roots(tool)
    events: list[tuple[_Place, int, Entry | None]] = [(place, count, None) for place, count in pulls]
    events += [((entry.at, roots.get(entry.pk, entry.pk)), 0, entry) for entry in wanted]
    events.sort(key=lambda event: event[0])
    return _walked(events)


def _walked(events: Iterable[tuple[_Place, int, Entry | None]]) -> tuple[list[tuple[Entry, int]], int]:
    found, total = [], 0
    for _place, count, entry in events:
        total += count
        if entry is None:
            continue
        if entry.kind == _START:
            total = entry.payload.get("total_pulls") or 0
        found.append((entry, total))
    return found, total


def _pulls(tool: Tool, at: datetime, wanted: list[Entry]) -> tuple[list[tuple[_Place, int]], dict[int, int]]:
    """Each pull with its place in the order, and the first of each correction's chain where they were looked up."""
    if tool.kind == Kind.INSERT:
        history = History(RecipeBook(()), UTC, at)
        history.read_with_molds([tool])
        placed = [((when, root), one.count or 1) for when, root, one in history.sequence(tool) if one.kind == "pull"]
        return placed, {one.id: root for _when, root, one in history.placed(tool.pk)}
    kind = "used" if tool.kind == Kind.TRIM_MASK else "pull"
    rows = Entry.objects.filter(tool=tool, at__lte=at, kind=kind).standing()
    read = list(rows.values_list("at", "pk", "count", "replaces_id"))
    roots = _roots(tool) if any(replaces for *_, replaces in read) else {}
    return [((when, roots.get(pk, pk)), count or 1) for when, pk, count, _replaces in read], roots


def _roots(tool: Tool) -> dict[int, int]:
    """By the key of each correction that of the first of its chain."""
    first: dict[int, int] = {}
    pairs = Entry.objects.filter(tool=tool, replaces__isnull=False).order_by("pk").values_list("pk", "replaces_id")
    for pk, of in pairs:
        first[pk] = first.get(of, of)
    return first
