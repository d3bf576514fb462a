"""What should be known before a tool is put at a place, and which loan a move has ended."""

from collections.abc import Sequence

from tooling.models import Entry, Place, Summary, Tool
from tooling.selectors.carried import part_carried
from tooling.selectors.loads import over
from tooling.selectors.loans import loan_at
from tooling.words.moves import over_limit


def before_moving(tool: Tool, place: Place, units: str) -> list[str]:
    """What speaks against putting it there and stops nobody: a limit that is passed, a part in it that cures."""
    return before_moving_all([tool], place, units)


def before_moving_all(tools: Sequence[Tool], place: Place, units: str) -> list[str]:
    """The same of tools that are put there together; each is named where they are several."""
    found = over(place, tools)
    said = [over_limit(found, units)] if found is not None else []
    summaries = {one.tool_id: one for one in Summary.objects.filter(tool__in=tools)}
    for tool in tools:
        summary = summaries[tool.pk]
        if summary.laid_up_at is not None and summary.lies != place.pk:
            words = part_carried(tool, summary, to=place, along=tools)
            said.append(f"{tool.code}: {words}" if len(tools) > 1 else words)
    return said


def loan_ended_by(entry: Entry) -> Entry | None:
    """The loan that was over with this move: nobody had seen the tool anywhere since it was lent."""
    loan = loan_at(entry.tool, entry.at)
    if loan is None:
        return None
    looks = Entry.objects.filter(tool=entry.tool, kind="moved", at__gt=loan.at, at__lte=entry.at).standing()
    return None if looks.exclude(pk=entry.pk).exclude(payload__seen=False).exists() else loan
