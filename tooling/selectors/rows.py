"""A tool as lists show it: its state by the span that holds now, its tape, and what it is about. Nothing is folded."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from tooling.calc.state import PartIn, instant
from tooling.calc.status import Need, Status
from tooling.calc.tape import Tape
from tooling.models import RecipeVersion, Span, Summary, Tool


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a list. `on` is the code of the insert that decides, or ""; `family` that of its recipe."""

    tool: Tool
    summary: Summary
    status: Status
    own: Status
    tape: Tape | None
    on: str
    family: str
    until: datetime | None

    @property
    def about(self) -> str:
        """The part that is in it, with its serial."""
        return " ".join(word for word in (self.summary.part, self.summary.serial) if word)


class Families:
    """The family of each recipe in force, and the recipes of the inserts that decide: read once for a whole list."""

    def __init__(self, at: datetime, spans: Iterable[Span]) -> None:
        """Reads the recipes' families, and the inserts that a mold's state comes from."""
        rows = RecipeVersion.objects.in_force(at).values_list("system__code", "family")
        self._of_code = dict(rows)
        others = {span.detail["surface"] for span in spans if "surface" in span.detail}
        surfaces = Summary.objects.filter(tool__in=others).select_related("tool") if others else ()
        self._others = {one.tool_id: one for one in surfaces}

    def of(self, summary: Summary) -> str:
        """The family of the recipe of a surface; "other" where it has none."""
        return self._of_code.get(summary.state.get("system", ""), "other")

    def deciding(self, span: Span, summary: Summary) -> tuple[str, str]:
        """The code of the insert that decides, or "", and the family of the deciding surface."""
        other = self._others.get(span.detail.get("surface", 0))
        if other is None or other.tool_id == summary.tool_id:
            return "", self.of(summary)
        return other.tool.code, self.of(other)


def rows(spans: Iterable[Span], at: datetime) -> list[Row]:
    """The rows of spans that were read with `tool__summary`."""
    spans = list(spans)
    families = Families(at, spans)
    return [_row(span, families) for span in spans]


def _row(span: Span, families: Families) -> Row:
    tool = span.tool
    summary = tool.summary
    status = _status(span, summary, span.status, span.pulls_left, span.detail)
    own = span.detail.get("own")
    on, family = families.deciding(span, summary)
    return Row(
        tool=tool,
        summary=summary,
        status=status,
        own=_status(span, summary, own["status"], own["pulls_left"], own) if own else status,
        tape=_tape(span, summary) if tool.has_surface else None,
        on=on,
        family=family,
        until=span.until_at,
    )


def _tape(span: Span, summary: Summary) -> Tape:
    coats = span.detail.get("coats")
    strokes = tuple(summary.state.get("strokes", ()))
    return Tape(strokes, span.detail["left"], (coats[0], coats[1]) if coats else None)


def _status(span: Span, summary: Summary, status: str, left: int, said: dict[str, Any]) -> Status:
    state, expires = summary.state, said.get("expires")
    return Status(
        tool=span.tool_id,
        surface=said.get("surface", span.tool_id),
        status=status,
        why=tuple(said.get("why", ())),
        need=Need(*said["need"]) if "need" in said else None,
        pulls_left=left,
        wax_after_pull=said.get("wax_after"),
        pulls_past=said.get("past", 0),
        since_coat=summary.since_coat,
        touch_ups=state.get("touch_ups", 0),
        touch_ups_known=state.get("touch_ups_known", True),
        total_pulls=summary.total_pulls,
        total_coats=summary.total_coats,
        coats_in_preparation=state.get("coats", 0),
        break_in_index=span.detail.get("index", 0),
        expires_on=date.fromisoformat(expires) if expires else None,
        ready_at=span.ready_at,
        in_mold=_part(summary),
    )


def _part(summary: Summary) -> PartIn | None:
    part = summary.state.get("part")
    if part is None:
        return None
    name, serial, since, earliest, number = part
    return PartIn(name, serial, instant(since), None if earliest is None else instant(earliest), number)
