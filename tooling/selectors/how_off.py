"""How the other half of a matched set came off: asked when the part is off, and again until somebody has said it."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db.models import Exists, OuterRef

from tooling.models import Entry, Kind, Tool
from tooling.models.entries import EntryQuerySet

# A list asks about what lately came off; the page of a tool asks for as long as no part came off since.
_LATELY = timedelta(days=14)
# What one form writes to several halves is recorded within less.
_TOGETHER = timedelta(minutes=2)


def how_not_said(tool: Tool) -> Entry | None:
    """The last pull of a half, where it was written from another half and nobody has said how it came off here."""
    if not tool.matched_set or tool.kind != Kind.MOLD:
        return None
    last = Entry.objects.filter(tool=tool, kind="pull").standing().order_by("-at", "-pk").first()
    return last if last is not None and _with_others(_unsaid().filter(pk=last.pk)) else None


def hows_not_said(tools: Iterable[int], at: datetime) -> dict[int, Entry]:
    """The same for the molds among these that a part came off lately, by their keys."""
    later = Entry.objects.filter(tool=OuterRef("tool"), kind="pull", at__gt=OuterRef("at")).standing()
    found = _unsaid().filter(tool__in=list(tools), at__gte=at - _LATELY).exclude(Exists(later))
    return {one.tool_id: one for one in _with_others(found)}


def _unsaid() -> EntryQuerySet:
    of_a_half = Entry.objects.filter(kind="pull", came_off="", count=1, tool__kind=Kind.MOLD)
    return of_a_half.exclude(tool__matched_set="").standing()


def _with_others(pulls: EntryQuerySet) -> list[Entry]:
    """Those that were written together with the pull of another half."""
    first = {one: one.with_earlier()[-1] for one in pulls.select_related("tool", "replaces").order_by("at", "pk")}
    # What a sheet brought has no token of a form.
    found = {one: before.recorded_at for one, before in first.items() if before.token is not None}
    if not found:
        return []
    sets = {one.tool.matched_set for one in found}
    near = (min(found.values()) - _TOGETHER, max(found.values()) + _TOGETHER)
    others = Entry.objects.filter(kind="pull", tool__matched_set__in=sets, recorded_at__range=near).exclude(token=None)
    written = list(others.values_list("tool", "tool__matched_set", "recorded_at"))
    return [one for one, moment in found.items() if any(_is_beside(one, moment, *other) for other in written)]


def _is_beside(pull: Entry, moment: datetime, tool: int, matched_set: str, recorded_at: datetime) -> bool:
    near = abs(recorded_at - moment) <= _TOGETHER
    return near and tool != pull.tool_id and matched_set == pull.tool.matched_set
