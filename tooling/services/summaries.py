"""The summary row and the spans of one tool, written from a folded state."""

from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import Any, Protocol

from tooling.calc.groups import group_of
from tooling.calc.order import Key
from tooling.calc.recipe import RecipeBook
from tooling.calc.spans import Member, Timeline, spans
from tooling.calc.spans import Span as Laid
from tooling.calc.state import UNKNOWN, State, encode, micros
from tooling.calc.status import Status
from tooling.models import Entry, Span, Summary
from tooling.models.spans import EVER


class HasRules(Protocol):
    """What laying spans needs."""

    @property
    def book(self) -> RecipeBook:
        """The shop's recipes."""

    @property
    def zone(self) -> tzinfo:
        """The shop's time zone."""

    @property
    def now(self) -> datetime:
        """The moment from which spans are laid."""


def keep_state(summary: Summary, state: State, key: Key | None) -> None:
    """Sets the stored state, its key and the columns that lists read."""
    summary.state = encode(state)
    summary.last_at, summary.last_key = key if key is not None else (None, None)
    summary.total_pulls = state.total_pulls
    summary.total_coats = state.total_coats
    summary.since_coat = state.since_coat
    summary.retired = state.retired
    _keep_part(summary, state)
    _keep_hold(summary, state)


def _keep_part(summary: Summary, state: State) -> None:
    part = state.part
    used = [t for t in (state.last_pull, part.since if part else None) if t is not None]
    summary.last_used_at = max(used, default=None)
    if part is None:
        summary.part = summary.serial = ""
        summary.laid_up_at = summary.laid_up_by_id = None
    else:
        summary.part, summary.serial, summary.laid_up_at = part.part, part.serial, part.since
        summary.laid_up_by_id = Entry.objects.values_list("by_id", flat=True).get(pk=part.entry)


def _keep_hold(summary: Summary, state: State) -> None:
    if not state.holds:
        summary.held_since = summary.held_by_id = None
        summary.held_note = ""
        return
    first = Entry.objects.get(pk=min(state.holds.values()))
    summary.held_since, summary.held_by_id = first.at, first.by_id
    summary.held_note = first.payload.get("reason") or first.payload.get("note") or ""


def lay_spans(summary: Summary, timeline: Timeline, members: Sequence[Member], rules: HasRules) -> None:
    """Replaces the tool's spans by those from now on."""
    laid = spans(timeline, members, rules.book, rules.zone, rules.now)
    Span.objects.filter(tool=summary.tool_id).delete()
    Span.objects.bulk_create(row(summary, one) for one in laid)


def row(summary: Summary, laid: Laid) -> Span:
    """A span as it is stored: what lists show of it, and nothing to work out."""
    status = laid.status
    group = _group(summary, status.status)
    return Span(
        tool_id=summary.tool_id,
        rank=status.rank,
        status=status.status,
        from_at=laid.since,
        until_at=laid.until,
        pulls_left=status.pulls_left,
        ready_at=status.ready_at,
        detail=_detail(status, laid),
        group=group,
        group_at=_group_at(group, summary, status.ready_at),
    )


def _group(summary: Summary, status: str) -> str:
    """What waits to be accepted has a section of its own, unless it is held besides."""
    waits = summary.making or (summary.accept_again and status != "held")
    return group_of(status, summary.tool.kind, waits, summary.in_mold_of_id is not None)


def _group_at(group: str, summary: Summary, ready_at: datetime | None) -> datetime:
    """What a group of the board goes by: the end of a wait, the last work on the tool, the first hold."""
    worked = None if _only_told(summary) else summary.last_at
    goes_by = {"ready": worked, "wax": worked, "held": summary.held_since}
    return goes_by.get(group, ready_at) or EVER


def _only_told(summary: Summary) -> bool:
    """Whether nobody knows of a day on which it was worked with: that somebody told of it was no work."""
    # A starting state of a coat that nobody knows the day of stands for both at its own moment.
    state, told_at = summary.state, summary.last_at and micros(summary.last_at)
    told = state.get("phase") == UNKNOWN and state.get("last_coat") == state.get("last_pull") == told_at
    return told and not summary.total_coats and state.get("part") is None


def regroup(summary: Summary) -> None:
    """Puts the spans that lie there into other groups of the board: where making, or a wait to be accepted, changes."""
    laid = list(Span.objects.filter(tool=summary.tool_id))
    for span in laid:
        span.group = _group(summary, span.status)
        span.group_at = _group_at(span.group, summary, span.ready_at)
    Span.objects.bulk_update(laid, ["group", "group_at"])


def _detail(status: Status, laid: Laid) -> dict[str, Any]:
    """What a list says beside the columns; with `own`, the tool's own status where an insert's is worse."""
    detail = _said(status)
    detail["left"] = laid.tape.left
    if laid.tape.coats is not None:
        detail["coats"] = list(laid.tape.coats)
    if status.surface != laid.own.surface or status.status != laid.own.status:
        detail["surface"] = status.surface
        detail["own"] = {"status": laid.own.status, "pulls_left": laid.own.pulls_left, **_said(laid.own)}
    if laid.own.break_in_index:
        detail["index"] = laid.own.break_in_index
    return detail


def _said(status: Status) -> dict[str, Any]:
    said: dict[str, Any] = {}
    if status.why:
        said["why"] = list(status.why)
    if status.need is not None:
        said["need"] = list(status.need)
    if status.wax_after_pull is not None:
        said["wax_after"] = status.wax_after_pull
    if status.pulls_past:
        said["past"] = status.pulls_past
    if status.expires_on is not None:
        said["expires"] = status.expires_on.isoformat()
    return said
