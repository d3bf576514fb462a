"""When each tool is to be looked over next, kept in its summary, so that no list and no board counts pulls.

What is kept is that after all of the history. An entry behind all others is one step; everything else counts again.
"""

from collections.abc import Iterable
from datetime import tzinfo

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import Model, Q

from tooling.calc.entry import Entry as Fact
from tooling.models import Entry, Shop, Summary, Tool
from tooling.selectors.look_overs import AFTER_ALL, LookOver, days_after, is_counted, look_overs

# Changes of these change the next look-over.
COLUMNS = frozenset({"inspect_every_pulls", "inspect_every_days", "built_on"})
_NONE = LookOver(None, None)
_AT_ONCE = 500


def keep(summaries: Iterable[Summary], zone: tzinfo) -> None:
    """Counts it again from the histories, in one query where any is asked for; the caller saves."""
    every = list(summaries)
    found = look_overs([one.tool for one in every], AFTER_ALL, zone)
    for one in every:
        _set(one, found.get(one.tool_id, _NONE))


def step(summary: Summary, entry: Fact, zone: tzinfo) -> None:
    """After an entry that comes behind all that bears on the surface; called before the summary knows of it."""
    tool = summary.tool
    if not is_counted(tool):
        return
    if entry.kind == "inspected":
        day = days_after(entry.at.astimezone(zone).date(), tool.inspect_every_days)
        _set(summary, LookOver(tool.inspect_every_pulls, day))
    elif entry.kind == "pull" and tool.inspect_every_pulls:
        _came_off(summary, entry, zone)
    if _begins_earlier(summary, entry, zone):
        keep([summary], zone)


def step_beside(summary: Summary, entry: Fact, zone: tzinfo) -> None:
    """After an entry that says nothing of the surface: a cut against a trim mask, or the first of a history."""
    if not is_counted(summary.tool):
        return
    if entry.kind == "used" and summary.tool.inspect_every_pulls:
        _came_off(summary, entry, zone)
    if _begins_earlier(summary, entry, zone):
        keep([summary], zone)


def anew(tools: Iterable[int]) -> None:
    """Counts it again for these tools and writes it, as where they are to be looked over after other pulls or days."""
    summaries = Summary.objects.filter(tool__in=list(tools)).select_related("tool")
    changed = list(summaries.select_for_update(of=("self",)))
    keep(changed, Shop.current().zone)
    Summary.objects.bulk_update(changed, ["look_left", "look_on"], batch_size=_AT_ONCE)


def fill(using: str = DEFAULT_DB_ALIAS) -> None:
    """For tools from before it was kept, as after an upgrade. Does nothing before all columns are there."""
    if using == DEFAULT_DB_ALIAS and all(_is_whole(model, using) for model in (Summary, Tool, Shop, Entry)):
        by_pulls = Q(tool__inspect_every_pulls__gt=0, look_left=None)
        by_days = Q(tool__inspect_every_days__gt=0, look_on=None)
        lacking = list(Summary.objects.filter(by_pulls | by_days).values_list("tool_id", flat=True))
        for start in range(0, len(lacking), _AT_ONCE):
            anew(lacking[start : start + _AT_ONCE])


def _is_whole(model: type[Model], using: str) -> bool:
    """Whether its table has every column that it has now: a migration may end at an earlier one."""
    at = connections[using]
    with at.cursor() as cursor:
        if model._meta.db_table not in at.introspection.table_names(cursor):
            return False
        there = {column.name for column in at.introspection.get_table_description(cursor, model._meta.db_table)}
    return {field.column for field in model._meta.local_concrete_fields} <= there


def _set(summary: Summary, found: LookOver) -> None:
    summary.look_left, summary.look_on = found.pulls, found.day


def _came_off(summary: Summary, entry: Fact, zone: tzinfo) -> None:
    """Parts that came off it, or were cut against it. At the very moment of a look-over they count no more."""
    known = summary.look_left is not None and (summary.last_at is None or summary.last_at < entry.at)
    if known and summary.look_left is not None:
        summary.look_left -= entry.count or 0
    else:
        keep([summary], zone)


def _begins_earlier(summary: Summary, entry: Fact, zone: tzinfo) -> bool:
    """Whether days may now be counted from this entry: nobody says when it was built, or looked it over since."""
    tool = summary.tool
    if not tool.inspect_every_days or tool.built_on is not None:
        return False
    day = days_after(entry.at.astimezone(zone).date(), tool.inspect_every_days)
    return summary.look_on is None or (day is not None and day < summary.look_on)
