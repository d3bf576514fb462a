"""What may be written a second time: a pull that somebody wrote a moment ago, a serial number that was used before."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import reduce
from operator import or_
from uuid import UUID

from django.db.models import Q, QuerySet

from tooling.calc.state import decode
from tooling.models import Entry, Summary, Tool
from tooling.models.serials import split as serials

# Two hands at one mold write within this time; later it is another part.
SOON = timedelta(minutes=10)


def written_before(summary: Summary, lay_up: int | None, at: datetime) -> Entry | None:
    """The pull that somebody wrote of the part that is about to be pulled; None where there is none.

    summary: the tool's, as it stands. lay_up: the entry of the lay-up that was in it when the form was opened; None
    where nothing was.
    """
    part_in = decode(summary.state).part
    if lay_up is not None and (part_in is None or part_in.entry != lay_up):
        return _pulls(summary.tool_id).filter(Q(replaces=None) | Q(replaces__gt=lay_up), pk__gt=lay_up).first()
    if part_in is not None:
        return None
    since = at - SOON
    anew = Q(replaces=None) | Q(replaces__recorded_at__gt=since)
    return _pulls(summary.tool_id).filter(anew, recorded_at__gt=since).first()


def _pulls(tool: int) -> QuerySet[Entry]:
    pulls = Entry.objects.filter(tool=tool, kind="pull").standing()
    return pulls.select_related("by", "tool").order_by("-number")


def repeated(numbers: Sequence[str]) -> str:
    """The first serial number that stands there twice, or ""."""
    seen: set[str] = set()
    for one in numbers:
        if one.casefold() in seen:
            return one
        seen.add(one.casefold())
    return ""


def used_before(tool: Tool, part: str, numbers: Sequence[str], token: UUID) -> tuple[str, Entry] | None:
    """A serial number of the part that was pulled before, or laid up in another tool, and the entry that says so.

    In the other halves of a matched set it is the same part.

    What the same form wrote when it was sent the first time is not meant.
    """
    if not numbers:
        return None
    alike = reduce(or_, (Q(serial__icontains=one) for one in numbers))
    uses = Q(kind="pull") | (Q(kind="lay_up") & ~Q(tool=tool))
    # A serial behind "" is what the index of serials is made for.
    found = Entry.objects.filter(alike, uses, part=part, serial__gt="").standing()
    if tool.matched_set:
        found = found.filter(Q(tool=tool) | ~Q(tool__matched_set=tool.matched_set))
    wanted = {one.casefold(): one for one in numbers}
    for entry in found.exclude(token=token).select_related("tool").order_by("-at")[:200]:
        for one in serials(entry.serial):
            if one.casefold() in wanted:
                return wanted[one.casefold()], entry
    return None
