"""All tools in batches that keep molds and their inserts together, so that each history is read once."""

from collections.abc import Iterable, Iterator

from tooling.models import Entry, Tool

# As many tools as keep memory small; a batch ends with the family that fills it.
_SIZE = 200


def family_batches(tools: Iterable[int] | None = None) -> Iterator[list[Tool]]:
    """Batches of these tools (None: of all) with everything that their molds and inserts are tied to."""
    batch: list[int] = []
    for family in _families(tools):
        batch += family
        if len(batch) >= _SIZE:
            yield _read(batch)
            batch = []
    if batch:
        yield _read(batch)


def _read(batch: list[int]) -> list[Tool]:
    return list(Tool.objects.filter(pk__in=batch).select_related("release_system").order_by("pk"))


def _families(tools: Iterable[int] | None) -> Iterator[list[int]]:
    """Tools that are tied by an installation, directly or through others."""
    ties: dict[int, set[int]] = {}
    pairs = Entry.objects.filter(kind="installed").exclude(mold=None).values_list("tool_id", "mold_id").distinct()
    for insert, mold in pairs.iterator():
        ties.setdefault(insert, set()).add(mold)
        ties.setdefault(mold, set()).add(insert)
    seen: set[int] = set()
    start = Tool.objects.order_by("pk").values_list("pk", flat=True) if tools is None else sorted(tools)
    for tool in start:
        if tool not in seen:
            family = _reachable(tool, ties)
            seen |= family
            yield sorted(family)


def _reachable(tool: int, ties: dict[int, set[int]]) -> set[int]:
    found, todo = {tool}, [tool]
    while todo:
        for other in ties.get(todo.pop(), ()):
            if other not in found:
                found.add(other)
                todo.append(other)
    return found
