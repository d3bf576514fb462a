"""A tool as lists show it: its state by the span that holds now, its tape, and what it is about. Nothing is folded."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet

from tooling.calc.readiness import ready_if_started
from tooling.calc.state import PartIn, decode, instant
from tooling.calc.status import Need, Status
from tooling.calc.tape import Tape
from tooling.models import Kind, RecipeVersion, Span, Summary, Tool
from tooling.selectors.recipes import in_force


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a list. `own` is the tool without its inserts, which are `inside`; the tape is always its own."""

    tool: Tool
    summary: Summary
    status: Status
    own: Status
    tape: Tape | None
    recipe: RecipeVersion | None
    inside: tuple["Row", ...]
    until: datetime | None

    @property
    def deciding(self) -> "Row":
        """The surface that the status comes from: an insert that is in it, or the tool itself."""
        return next((one for one in self.inside if one.tool.pk == self.status.surface), self)

    @property
    def on(self) -> str:
        """The code of the insert that decides, or ""."""
        return "" if self.deciding is self else self.deciding.tool.code

    @property
    def family(self) -> str:
        """The family of the recipe of the deciding surface; "other" where it has none."""
        recipe = self.deciding.recipe
        return recipe.family if recipe is not None else "other"

    @property
    def fewest(self) -> "Row | None":
        """The insert with the fewest pulls left, where it has fewer than the tool itself."""
        left = [one for one in self.inside if one.own.pulls_left == self.status.pulls_left]
        return left[0] if left and self.tape is not None and self.tape.left > self.status.pulls_left else None

    def ready_if_started(self, at: datetime) -> datetime | None:
        """When it can be laid up if everything missing on it and its inserts is begun at once, side by side."""
        ready = []
        for one in (self, *self.inside):
            rules = one.recipe
            state = decode(one.summary.state)
            when = ready_if_started(one.own, state, rules.as_calc(), rules.work, at) if rules is not None else None
            if when is None:
                return None
            ready.append(when)
        return max(ready)


# What a line of a list says of a tool. Another column is read when it is asked for, line by line: name it here.
_SPAN = ("tool", "status", "from_at", "until_at", "pulls_left", "ready_at", "detail")
_TOOL = ("code", "name", "kind", "lift")
_SUMMARY = (
    "state", "total_pulls", "since_coat", "total_coats", "in_mold_of", "making", "step", "step_at", "retired",
    "held_since", "held_note", "held_by__name", "part", "serial", "laid_up_at", "laid_up_by__name",
)  # fmt: skip
_SHOWN = (*_SPAN, *(f"tool__{name}" for name in _TOOL), *(f"tool__summary__{name}" for name in _SUMMARY))
_PLACES = ("home", "seen_place", "in_mold_of")


def shown(spans: QuerySet[Span], places: bool = False) -> QuerySet[Span]:
    """The spans with what lists say of their tools and nothing more; `places`: also where each is."""
    related, columns = ["tool__summary__held_by", "tool__summary__laid_up_by"], [*_SHOWN]
    if places:
        related += [f"tool__summary__{name}" for name in _PLACES]
        columns += ["tool__summary__seen_at"]
        columns += [f"tool__summary__{place}__{column}" for place in _PLACES for column in ("code", "name")]
    return spans.select_related(*related).only(*columns)


def rows(spans: Iterable[Span], at: datetime) -> list[Row]:
    """The rows of spans that were read as `shown`, in two queries."""
    spans = list(spans)
    recipes = in_force(at)
    inside: dict[int, list[Row]] = {}
    for span in _inside(spans, at):
        inside.setdefault(span.tool.summary.in_mold_of_id, []).append(_row(span, recipes, ()))
    return [_row(span, recipes, tuple(inside.get(span.tool_id, ()))) for span in spans]


def _inside(spans: list[Span], at: datetime) -> Iterable[Span]:
    molds = [span.tool_id for span in spans if span.tool.kind in Kind.TAKES_INSERTS]
    # By way of the summaries: their index of molds finds the few inserts first.
    inserts = Summary.objects.filter(in_mold_of__in=molds).values("tool")
    return shown(Span.objects.at(at).filter(tool__in=inserts)).order_by("tool__code")


def _row(span: Span, recipes: dict[str, RecipeVersion], inside: tuple[Row, ...]) -> Row:
    tool = span.tool
    summary = tool.summary
    status = _status(span, summary, span.status, span.pulls_left, span.detail)
    own = span.detail.get("own")
    return Row(
        tool=tool,
        summary=summary,
        status=status,
        own=_status(span, summary, own["status"], own["pulls_left"], own) if own else status,
        tape=_tape(span, summary) if tool.has_surface else None,
        recipe=recipes.get(summary.state.get("system", "")),
        inside=inside,
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
