"""Where a tool was last seen, to whom it is lent, where it belongs, how far its making is, and whether to accept it."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from tooling.models import Entry, Summary
from tooling.services.summaries import regroup

PLACE_KINDS = ("moved", "lent", "handed_back")
_LOAN = ("lent", "handed_back")
STEP_KINDS = ("making", "accepted")
# These say whether it was brought back, besides.
_BACK_KINDS = ("retired", "reinstated", "starting_state")
_KINDS = (*PLACE_KINDS, *STEP_KINDS, *_BACK_KINDS)


def keep_whereabouts(summary: Summary, entry: Entry, formal_since: datetime | None) -> None:
    """Sets place, step and acceptance anew where the entry, or the one it voids or replaces, bears on them."""
    kinds = {one.kind for one in (entry, entry.voids, entry.replaces) if one is not None}
    if not kinds.isdisjoint(_KINDS):
        stood = summary.making, summary.accept_again
        keep_facts(summary, standing([summary.tool_id]).get(summary.tool_id, ()), formal_since)
        if (summary.making, summary.accept_again) != stood:
            regroup(summary)


def standing(tools: Iterable[int]) -> dict[int, list[Entry]]:
    """The standing entries of each tool that bear on these, in the order in which they happened."""
    entries = Entry.objects.filter(tool__in=list(tools), kind__in=_KINDS)
    result: dict[int, list[Entry]] = {}
    for entry in entries.standing().select_related("replaces"):
        result.setdefault(entry.tool_id, []).append(entry)
    for of_tool in result.values():
        of_tool.sort(key=lambda entry: (entry.at, _root(entry)))
    return result


def _root(entry: Entry) -> int:
    while entry.replaces is not None:
        entry = entry.replaces
    return entry.pk


def keep_facts(summary: Summary, entries: Sequence[Entry], formal_since: datetime | None) -> None:
    """Sets home, place, step and whether it is to be accepted anew from a tool's standing entries that bear on them.

    formal_since: since when the shop keeps formal records; None where it keeps none.
    """
    _keep_place(summary, [entry for entry in entries if entry.kind == "moved"])
    _keep_loan(summary, [entry for entry in entries if entry.kind in _LOAN])
    _keep_step(summary, [entry for entry in entries if entry.kind in STEP_KINDS])
    summary.accept_again = formal_since is not None and _unaccepted(entries, formal_since)


def _keep_place(summary: Summary, moves: Sequence[Entry]) -> None:
    """Home is the place of the last move that said so, else where the tool began; seen is where it was last put.

    A move that only names another home was no look at the tool.
    """
    homes = [entry for entry in moves if entry.payload.get("home")]
    summary.home_id = homes[-1].payload.get("place") if homes else summary.tool.place_id
    looks = [entry for entry in moves if entry.payload.get("seen") is not False]
    summary.seen_place_id = looks[-1].payload.get("place") if looks else None
    summary.seen_at = looks[-1].at if looks else None


def _keep_loan(summary: Summary, loans: Sequence[Entry]) -> None:
    """Lent until it is handed back, or seen somewhere again. Handed back it lies where it lay before."""
    last = loans[-1] if loans else None
    lent = last is not None and last.kind == "lent" and (summary.seen_at is None or summary.seen_at <= last.at)
    summary.lent = lent
    summary.lent_to = str(last.payload.get("person", "")) if lent and last else ""
    until = last.payload.get("until") if lent and last else None
    summary.lent_until = date.fromisoformat(until) if until else None
    if lent and last:
        summary.seen_place_id, summary.seen_at = None, last.at


def _keep_step(summary: Summary, steps: Sequence[Entry]) -> None:
    """A tool is in the making from its start or its first step until it is accepted."""
    last = steps[-1] if steps else None
    summary.making = summary.tool.in_making if last is None else last.kind == "making"
    summary.step = str(last.payload.get("step", "")) if last is not None and summary.making else ""
    summary.step_at = _began(steps, summary.step) if summary.making else None


def _unaccepted(entries: Sequence[Entry], formal_since: datetime) -> bool:
    """Whether it was brought back since then, and accepted no more. What is not retired is not brought back, and a
    starting state stands for all before it.
    """
    retired = wanted = False
    for entry in entries:
        if entry.kind == "reinstated" and retired:
            retired, wanted = False, entry.at >= formal_since
        elif entry.kind == "retired":
            retired = True
        elif entry.kind == "starting_state":
            retired = wanted = False
        elif entry.kind == "accepted":
            wanted = False
    return wanted


def _began(steps: Sequence[Entry], name: str) -> datetime | None:
    """When the last step began: what else was written of it afterwards does not begin it anew."""
    began = None
    for entry in reversed(steps):
        if entry.kind != "making" or str(entry.payload.get("step", "")) != name:
            break
        began = entry.at
    return began
