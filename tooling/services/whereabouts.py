"""Where a tool was last seen, where it belongs, who has it, and which step of its making it is at."""

from tooling.models import Entry, Summary

_PLACE_KINDS = ("moved", "lent", "handed_back")
_STEP_KINDS = ("making", "accepted")


def keep_whereabouts(summary: Summary, entry: Entry) -> None:
    """Sets place and step anew where the entry, or the one it voids or replaces, bears on them."""
    kinds = {one.kind for one in (entry, entry.voids, entry.replaces) if one is not None}
    if kinds & set(_PLACE_KINDS):
        keep_place(summary)
    if kinds & set(_STEP_KINDS):
        keep_step(summary)


def standing(tool: int, kinds: tuple[str, ...]) -> list[Entry]:
    """A tool's standing entries of some kinds, in the order in which they happened."""
    entries = Entry.objects.filter(tool=tool, kind__in=kinds, voided_by=None, replaced_by=None)
    return sorted(entries.select_related("replaces"), key=lambda entry: (entry.at, _root(entry)))


def _root(entry: Entry) -> int:
    while entry.replaces is not None:
        entry = entry.replaces
    return entry.pk


def keep_place(summary: Summary) -> None:
    """Home is the place of the last move that said so, else where the tool began; seen is the last move's place."""
    moves = [entry for entry in standing(summary.tool_id, _PLACE_KINDS) if entry.kind == "moved"]
    homes = [entry for entry in moves if entry.payload.get("home")]
    summary.home_id = homes[-1].payload.get("place") if homes else summary.tool.place_id
    summary.seen_place_id = moves[-1].payload.get("place") if moves else None
    summary.seen_at = moves[-1].at if moves else None


def keep_step(summary: Summary) -> None:
    """A tool is in the making from its start or its first step until it is accepted."""
    steps = standing(summary.tool_id, _STEP_KINDS)
    if not steps:
        summary.making, summary.step, summary.step_at = summary.tool.in_making, "", None
        return
    last = steps[-1]
    summary.making = last.kind == "making"
    summary.step = str(last.payload.get("step", "")) if summary.making else ""
    summary.step_at = last.at if summary.making else None
