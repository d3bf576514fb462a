"""Which inserts go into a mold, and into which molds an insert goes: the likely ones first."""

from collections.abc import Iterable

from django.db.models import Q

from tooling.models import Entry, Kind, Tool

# As many as a thumb reaches; any other is typed or scanned.
MOST = 8
# Of a long history only what was installed last says what is likely.
_LOOKED_BACK = 200


def likely(tool: Tool, most: int = MOST) -> list[Tool]:
    """For an insert molds, for a mold inserts: those it was together with last, then those made with it.

    What is retired, or together with it now, is left out.
    """
    before = _before(tool)
    found = Tool.objects.filter(_made_with(tool) | Q(pk__in=before), kind=_other_kind(tool), summary__retired=False)
    now = Q(summary__in_mold_of=tool) if tool.kind == Kind.MOLD else Q(pk=tool.summary.in_mold_of_id)
    rank = {pk: place for place, pk in enumerate(before)}
    tools = found.exclude(now).exclude(pk=tool.pk).select_related("summary__in_mold_of")
    return sorted(tools.order_by("code"), key=lambda one: rank.get(one.pk, len(rank)))[:most]


def inside(mold: Tool) -> list[Tool]:
    """The inserts that are in a mold now."""
    return list(Tool.objects.filter(summary__in_mold_of=mold).order_by("code"))


def _other_kind(tool: Tool) -> str:
    return Kind.INSERT if tool.kind == Kind.MOLD else Kind.MOLD


def _before(tool: Tool) -> list[int]:
    """The keys of those that it was together with, the last one first."""
    entries = Entry.objects.filter(kind="installed").standing()
    mine = entries.filter(mold=tool) if tool.kind == Kind.MOLD else entries.filter(tool=tool)
    column = "tool_id" if tool.kind == Kind.MOLD else "mold_id"
    keys: Iterable[int] = mine.order_by("-at").values_list(column, flat=True)[:_LOOKED_BACK]
    return list(dict.fromkeys(keys))


def _made_with(tool: Tool) -> Q:
    made = Q(made_from=tool)
    if tool.made_from_id is not None:
        made |= Q(pk=tool.made_from_id) | Q(made_from=tool.made_from_id)
    if tool.matched_set:
        made |= Q(matched_set=tool.matched_set)
    return made
