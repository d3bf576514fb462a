"""Histories read from the database once, as the plain values that the rules fold."""

import json
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, tzinfo
from itertools import groupby
from operator import attrgetter
from typing import Any

from django.db import connections
from django.db.models import QuerySet, TextField
from django.db.models.functions import Cast

from tooling.calc.entry import Entry as Fact
from tooling.calc.fold import Folded, fold
from tooling.calc.membership import Stay, Use, stays, uses, with_uses
from tooling.calc.order import Placed, effective
from tooling.calc.recipe import RecipeBook
from tooling.calc.spans import Member, Timeline
from tooling.calc.state import State
from tooling.models import Entry, Kind, Tool

COLUMNS = (
    "id", "tool_id", "kind", "at", "recorded_at", "count", "area", "came_off", "film", "part", "serial",
    "release_system", "earliest_pull", "by_id", "mold_id", "replaces_id", "voids_id", "payload",
)  # fmt: skip


def fact(row: tuple[Any, ...]) -> Fact:
    """A row of COLUMNS as the rules read it."""
    (number, tool, kind, at, recorded_at, count, area, came_off, film, part, serial,
     system, earliest, by, mold, replaces, voids, more) = row  # fmt: skip
    made = Fact(
        number, tool, kind, at, recorded_at, count, area, came_off, film, part, serial, system, earliest,
        by=by, mold=mold, replaces=replaces, voids=voids,
    )  # fmt: skip
    if more:
        add_payload(made, more)
    return made


def add_payload(made: Fact, payload: dict[str, Any]) -> None:
    """Sets what the rules read from the payload."""
    made.cause = payload.get("cause", "")
    made.tool_damaged = payload.get("tool_damaged", False)
    made.surface = payload.get("surface")
    made.passed = payload.get("passed")
    made.prepared = payload.get("prepared", "")
    made.pulls_since_coat = payload.get("pulls_since_coat")
    made.touch_ups = payload.get("touch_ups")
    made.total_pulls = payload.get("total_pulls")


def facts(tools: Iterable[int] | None = None) -> Iterator[Fact]:
    """The entries of these tools (None: of all), tool after tool, each in recording order."""
    entries = Entry.objects.order_by("tool_id", "number")
    if tools is not None:
        entries = entries.filter(tool__in=list(tools))
    yield from map(fact, _stream(entries))


# SQLite keeps these as text. Read as such a row costs half of what it costs by way of Django's converters.
_TIMES = tuple(COLUMNS.index(name) for name in ("at", "recorded_at", "earliest_pull"))
_AS_TEXT = ("at", "recorded_at", "earliest_pull", "payload")


def _stream(entries: QuerySet[Entry]) -> Iterator[tuple[Any, ...]]:
    if connections[entries.db].vendor != "sqlite":
        return entries.values_list(*COLUMNS).iterator(chunk_size=5000)
    columns = [f"{name}_text" if name in _AS_TEXT else name for name in COLUMNS]
    texts = {f"{name}_text": Cast(name, TextField()) for name in _AS_TEXT}
    return map(_from_texts, entries.annotate(**texts).values_list(*columns).iterator(chunk_size=5000))


def _from_texts(row: tuple[Any, ...]) -> tuple[Any, ...]:
    fields = list(row)
    for place in _TIMES:
        if fields[place] is not None:
            fields[place] = datetime.fromisoformat(fields[place]).replace(tzinfo=UTC)
    fields[-1] = json.loads(fields[-1])
    return tuple(fields)


class History:
    """The histories of some tools, with what follows from them, each worked out once.

    `as_of` keeps what happened up to then, `known_at` what was recorded up to then.
    """

    def __init__(
        self, book: RecipeBook, zone: tzinfo, as_of: datetime | None = None, known_at: datetime | None = None
    ) -> None:
        """Nothing is read yet."""
        self.book = book
        self.zone = zone
        self.as_of = as_of
        self.known_at = known_at
        self._logs: dict[int, list[Fact]] = {}
        self._placed: dict[int, list[Placed]] = {}
        self._stays: dict[int, list[Stay]] = {}
        self._uses: dict[int, list[Use]] = {}
        self._folded: dict[int, Folded] = {}

    def read(self, tools: Iterable[int]) -> None:
        """Reads the entries of those tools that are not read yet, in one query."""
        missing = [tool for tool in tools if tool not in self._logs]
        if missing:
            self._logs.update((tool, []) for tool in missing)
            for tool, log in groupby(facts(missing), key=attrgetter("tool")):
                self._logs[tool] = list(log)

    def read_with_molds(self, tools: Iterable[Tool]) -> None:
        """The same, and the molds that inserts among them were in: in two queries, however many."""
        read = list(tools)
        self.read(tool.pk for tool in read)
        inserts = (tool for tool in read if tool.kind == Kind.INSERT)
        self.read({stay.mold for insert in inserts for stay in self.stays(insert.pk)})  # type: ignore[arg-type]

    def as_known(self, known_at: datetime | None) -> "History":
        """The same histories by what was recorded up to then; what is read for one is read for both."""
        then = History(self.book, self.zone, self.as_of, known_at)
        then._logs = self._logs
        return then

    def suppose(self, made: Fact) -> None:
        """As if this stood at the end of its tool's log. Before anything follows from the logs."""
        self.log(made.tool).append(made)  # type: ignore[arg-type]

    def log(self, tool: int) -> list[Fact]:
        """All entries of one tool in recording order, voids and corrections too."""
        self.read([tool])
        return self._logs[tool]

    def placed(self, tool: int) -> list[Placed]:
        """The tool's own standing entries, in the order in which they happened."""
        if tool not in self._placed:
            self._placed[tool] = effective(self.log(tool), self.as_of, self.known_at)
        return self._placed[tool]

    def stays(self, insert: int) -> list[Stay]:
        """An insert's times in molds."""
        if insert not in self._stays:
            self._stays[insert] = stays(self.placed(insert))
        return self._stays[insert]

    def uses(self, mold: int) -> list[Use]:
        """A mold's uses, with the instants whose inserts they reach."""
        if mold not in self._uses:
            self._uses[mold] = uses(self.placed(mold))
        return self._uses[mold]

    def sequence(self, tool: Tool) -> list[Placed]:
        """All that bears on the tool's surface: an insert's with the uses of its molds."""
        own = self.placed(tool.pk)
        if tool.kind != Kind.INSERT:
            return own
        times = self.stays(tool.pk)
        molds = {stay.mold for stay in times}
        self.read(molds)  # type: ignore[arg-type]
        return with_uses(own, times, {mold: self.uses(mold) for mold in molds})  # type: ignore[arg-type]

    def folded(self, tool: Tool) -> Folded:
        """The tool's surface after all of it."""
        if tool.pk not in self._folded:
            self._folded[tool.pk] = fold(self.sequence(tool), tool.pk, system_code(tool), self.book, self.zone)
        return self._folded[tool.pk]

    def timeline(self, tool: Tool, since: datetime) -> Timeline:
        """The tool's surface from a moment on; entries may lie a little ahead of it."""
        sequence = self.sequence(tool)
        starts = [since, *sorted({at for at, _, _ in sequence if at > since})]
        return Timeline(tool.pk, tuple((start, self._state(tool, sequence, start)) for start in starts))

    def _state(self, tool: Tool, sequence: list[Placed], at: datetime) -> State:
        """The tool's surface after what happened up to a moment; almost always that is all of it."""
        prefix = [placed for placed in sequence if placed[0] <= at]
        if len(prefix) == len(sequence):
            return self.folded(tool).state
        return fold(prefix, tool.pk, system_code(tool), self.book, self.zone).state

    def member(self, insert: Tool, mold: int, since: datetime) -> Member:
        """An insert with its times in one mold, from a moment on."""
        times = tuple((stay.since, stay.until) for stay in self.stays(insert.pk) if stay.mold == mold)
        return Member(self.timeline(insert, since), times)


def system_code(tool: Tool) -> str | None:
    """The code of the recipe at the start of the tool's history."""
    return tool.release_system.code if tool.release_system is not None else None


def ever_installed(molds: Iterable[int]) -> dict[int, list[Tool]]:
    """For each mold the inserts that any entry, void or not, installs in it."""
    result: dict[int, list[Tool]] = {}
    pairs = Entry.objects.filter(mold__in=list(molds), kind="installed").values_list("mold_id", "tool_id").distinct()
    members = list(pairs)
    tools = Tool.objects.select_related("release_system").in_bulk({tool for _, tool in members})
    for mold, tool in sorted(members, key=lambda pair: tools[pair[1]].code):
        result.setdefault(mold, []).append(tools[tool])
    return result
