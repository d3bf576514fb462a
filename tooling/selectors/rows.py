"""A tool as lists show it: its state by the span that holds now, its tape, and what it is about. Nothing is folded.

A row is a few plain values out of one query. What is stored as text within a column is read when it is asked for.
"""

import json
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache, cached_property
from typing import Any, NamedTuple

from django.db.models import F, QuerySet, TextField
from django.db.models.functions import Cast

from tooling.calc.readiness import Work, ready_if_started
from tooling.calc.recipe import Recipe
from tooling.calc.state import PartIn, decode, instant
from tooling.calc.status import Need, Status
from tooling.calc.tape import Tape
from tooling.models import Kind, RecipeVersion, Span, Summary
from tooling.models.spans import SpanQuerySet
from tooling.selectors.recipes import in_force


class Named(NamedTuple):
    """Another thing that a row names: a place, or the mold that an insert is in."""

    code: str
    name: str


class ToolShown(NamedTuple):
    """What lists show of a tool itself."""

    pk: int
    code: str
    name: str
    kind: str
    lift: str
    owner: str
    matched_set: str

    @property
    def has_surface(self) -> bool:
        """Whether anything is laid up in it or on it."""
        return self.kind in Kind.WITH_SURFACE


class _Kept(NamedTuple):
    stored: str
    tool_id: int
    total_pulls: int
    since_coat: int
    total_coats: int
    last_at: datetime | None
    last_used_at: datetime | None
    in_mold_of_id: int | None
    in_mold_of_code: str | None
    in_mold_of_name: str | None
    home_code: str | None
    home_name: str | None
    seen_place_code: str | None
    seen_place_name: str | None
    seen_at: datetime | None
    lent: bool
    lent_to: str
    lent_until: date | None
    making: bool
    accept_again: bool
    step: str
    step_at: datetime | None
    held_since: datetime | None
    held_by: str | None
    held_note: str
    part: str
    serial: str
    laid_up_at: datetime | None
    laid_up_by: str | None
    look_left: int | None
    look_on: date | None


class Kept(_Kept):
    """What lists show of a tool's summary, by the names that the summary has for it; people by their names."""

    @cached_property
    def state(self) -> dict[str, Any]:
        """The stored state of the surface."""
        return json.loads(self.stored)

    @property
    def in_mold_of(self) -> Named | None:
        """The mold that it is in."""
        return _named(self.in_mold_of_code, self.in_mold_of_name)

    @property
    def home(self) -> Named | None:
        """Where it belongs."""
        return _named(self.home_code, self.home_name)

    @property
    def seen_place(self) -> Named | None:
        """Where it was last seen."""
        return _named(self.seen_place_code, self.seen_place_name)


def _named(code: str | None, name: str | None) -> Named | None:
    return None if code is None else Named(code, name or "")


class _Spanned(NamedTuple):
    detail: str
    status: str
    until: datetime | None
    pulls_left: int
    ready_at: datetime | None


class Rules:
    """The recipes in force, each made into what the rules read no more than once for a list."""

    def __init__(self, versions: dict[str, RecipeVersion]) -> None:
        self.versions = versions
        self._read: dict[int, tuple[Recipe, Work]] = {}

    def judged_by(self, version: RecipeVersion | None) -> tuple[Recipe | None, Work]:
        """The recipe as the rules read it, and how long the hands are at each step of it."""
        if version is None:
            return None, Work()
        if version.pk not in self._read:
            self._read[version.pk] = version.as_calc(), version.work
        return self._read[version.pk]


@dataclass(frozen=True, eq=False)
class Row:
    """One line of a list. `own` is the tool without its inserts, which are `inside`; the tape is always its own."""

    tool: ToolShown
    summary: Kept
    span: _Spanned
    rules: "Rules"
    inside: tuple["Row", ...]

    @cached_property
    def status(self) -> Status:
        """The state of the tool, with its inserts."""
        return self._status(self.span.status, self.span.pulls_left, self._detail)

    @cached_property
    def own(self) -> Status:
        """The state of the tool by itself."""
        own = self._detail.get("own")
        return self._status(own["status"], own["pulls_left"], own) if own else self.status

    @cached_property
    def tape(self) -> Tape | None:
        """The tape on its surface."""
        if not self.tool.has_surface:
            return None
        coats, strokes = self._detail.get("coats"), self.summary.state.get("strokes", ())
        return Tape(tuple(strokes), self._detail["left"], (coats[0], coats[1]) if coats else None)

    @property
    def recipe(self) -> RecipeVersion | None:
        """The version of its recipe that holds."""
        return self.rules.versions.get(self.summary.state.get("system", ""))

    @cached_property
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
            recipe, work = self.rules.judged_by(one.recipe)
            when = ready_if_started(one.own, decode(one.summary.state), recipe, work, at)
            if when is None:
                return None
            ready.append(when)
        return max(ready)

    @cached_property
    def _detail(self) -> dict[str, Any]:
        return json.loads(self.span.detail)

    def _status(self, status: str, left: int, said: dict[str, Any]) -> Status:
        state, expires = self.summary.state, said.get("expires")
        return Status(
            tool=self.tool.pk,
            surface=said.get("surface", self.tool.pk),
            status=status,
            why=tuple(said.get("why", ())),
            need=Need(*said["need"]) if "need" in said else None,
            pulls_left=left,
            wax_after_pull=said.get("wax_after"),
            pulls_past=said.get("past", 0),
            since_coat=self.summary.since_coat,
            touch_ups=state.get("touch_ups", 0),
            touch_ups_known=state.get("touch_ups_known", True),
            total_pulls=self.summary.total_pulls,
            total_coats=self.summary.total_coats,
            coats_in_preparation=state.get("coats", 0),
            break_in_index=self._detail.get("index", 0),
            expires_on=date.fromisoformat(expires) if expires else None,
            ready_at=self.span.ready_at,
            in_mold=_part(state.get("part")),
        )


def _part(stored: list[Any] | None) -> PartIn | None:
    if stored is None:
        return None
    name, serial, since, earliest, number = stored
    return PartIn(name, serial, instant(since), None if earliest is None else instant(earliest), number)


# The columns of a row: where each of its plain values comes from, in their order.
_OF_TOOL = [f"tool__{name}" for name in ("id", *ToolShown._fields[1:])]
_ELSEWHERE = {
    "stored": Cast("tool__summary__state", TextField()),
    "held_by": F("tool__summary__held_by__name"),
    "laid_up_by": F("tool__summary__laid_up_by__name"),
    **{
        f"{place}_{column}": F(f"tool__summary__{place}__{column}")
        for place in ("in_mold_of", "home", "seen_place")
        for column in Named._fields
    },
}
_OF_SUMMARY = [_ELSEWHERE.get(name, F(f"tool__summary__{name}")) for name in Kept._fields]
_OF_SPAN = [Cast("detail", TextField()), F("status"), F("until_at"), F("pulls_left"), F("ready_at")]
_TO_TOOL, _TO_SUMMARY = len(_OF_TOOL), len(_OF_TOOL) + len(_OF_SUMMARY)


@cache
def _columns() -> SpanQuerySet:
    return Span.objects.values_list(*_OF_TOOL, *_OF_SUMMARY, *_OF_SPAN)


def shown() -> SpanQuerySet:
    """All spans as rows read them, to be narrowed down to those that a list shows."""
    # To find so many columns by their names takes longer than to read fifty rows: done once.
    return _columns().all()


def rows(spans: QuerySet[Span], at: datetime) -> list[Row]:
    """The rows of spans out of `shown`, in two queries, and one more where molds may have inserts in them."""
    rules, found = Rules(in_force(at)), _read(spans)
    molds = [tool.pk for tool, _, _ in found if tool.kind in Kind.TAKES_INSERTS]
    inside: dict[int | None, list[Row]] = {}
    for tool, summary, span in _read(_in_molds(molds, at)) if molds else ():
        inside.setdefault(summary.in_mold_of_id, []).append(Row(tool, summary, span, rules, ()))
    return [Row(tool, *rest, rules, tuple(inside.get(tool.pk, ()))) for tool, *rest in found]


def _in_molds(molds: list[int], at: datetime) -> QuerySet[Span]:
    # By way of the summaries: their index of molds finds the few inserts first.
    inserts = Summary.objects.filter(in_mold_of__in=molds).values("tool")
    return shown().at(at).filter(tool__in=inserts).order_by("tool__code")


def _read(spans: QuerySet[Span]) -> list[tuple[ToolShown, Kept, _Spanned]]:
    return [
        (ToolShown._make(one[:_TO_TOOL]), Kept._make(one[_TO_TOOL:_TO_SUMMARY]), _Spanned._make(one[_TO_SUMMARY:]))
        for one in spans
    ]
