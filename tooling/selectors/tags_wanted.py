"""The list of tags to print: which tools want one and why, and what is known of the tag of one tool."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import QuerySet

from tooling.models import TagPrint, TagWanted, Tool
from tooling.selectors.tag_facts import differs, facts

# Beyond as many, how many there are is not counted on a page that only says so.
COUNTED = 99


@dataclass(frozen=True, slots=True)
class Want:
    """A tool that wants a tag, what would stand on it now, and the names of what stands otherwise on the last."""

    tool: Tool
    tag: TagPrint
    now: dict[str, str]
    other: list[str]


def wanted() -> QuerySet[TagPrint]:
    """The tags to print, in the order of codes. A retired tool wants none, one in the making not yet."""
    tags = TagPrint.objects.exclude(wanted="")
    return tags.filter(tool__summary__retired=False, tool__summary__making=False).order_by("tool__code")


def count_shown() -> int:
    """How many there are, as far as a board counts them: one more than COUNTED stands for any more."""
    return wanted().order_by()[: COUNTED + 1].count()


def wants(tags: Sequence[TagPrint], at: datetime) -> list[Want]:
    """What the list says of these tags, in a few queries more."""
    now = facts((tag.tool_id for tag in tags), at)
    return [Want(tag.tool, tag, now[tag.tool_id], _other(tag, now[tag.tool_id])) for tag in tags if tag.tool_id in now]


def want_of(tool: Tool, at: datetime) -> Want | None:
    """The tag of one tool; None where nothing is known of it."""
    tag = TagPrint.objects.select_related("lost_by").filter(tool=tool).first()
    if tag is None:
        return None
    # Else nothing is said of what stands on it.
    compared = tag.wanted in (TagWanted.MOVED, TagWanted.CHANGED)
    now = facts([tool.pk], at)[tool.pk] if compared else {}
    return Want(tool, tag, now, _other(tag, now) if compared else [])


def _other(tag: TagPrint, now: dict[str, str]) -> list[str]:
    return differs(tag.said, now) if tag.printed_at is not None else []
