"""What holds a tool: every entry that stopped it since somebody last let it go."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from operator import attrgetter
from typing import Any, Protocol

from django.db.models import F, Q, Subquery, Window
from django.db.models.functions import RowNumber

from tooling.calc.entry import severity
from tooling.calc.state import State
from tooling.models import Entry, Picture, RecipeVersion
from tooling.selectors.pictures import of_entries
from tooling.words.holds import since

_KINDS = ("hold", "inspected", "pull")
# The words of this many of a tool are read; nobody looks at a tool with more of them one by one.
_MOST = 500


@dataclass(frozen=True)
class HoldSaid:
    """An entry that holds a tool: its words, and the pictures that were given with it."""

    entry: Entry
    words: str
    pictures: list[Picture]

    def __str__(self) -> str:
        return self.words


class Holding(Protocol):
    """What a summary says of the holds on its tool, on a row of a list as well."""

    @property
    def tool_id(self) -> int:
        """The tool's key."""

    @property
    def state(self) -> dict[str, Any]:
        """The stored state."""

    @property
    def held_since(self) -> datetime | None:
        """When the first hold that stands began."""


def standing_holds(surfaces: Iterable[tuple[Holding, RecipeVersion | None]]) -> dict[int, list[Entry]]:
    """The entries that hold each of these tools, the first first, by the tool's key; no query where none is held.

    surfaces: summaries and the recipe in force on each, which says how hard a pull has to be to hold it.
    """
    held = [(summary, recipe) for summary, recipe in surfaces if summary.held_since is not None]
    if not held:
        return {}
    first = {pk for summary, _ in held for pk in summary.state.get("holds", {}).values()}
    # Each from its own moment on, and so many of each: one that is held for months must not hide what holds another.
    later = Q(
        tool__in=[summary.tool_id for summary, _ in held], kind__in=_KINDS, at__gte=F("tool__summary__held_since")
    )
    return _of_each(held, _entries(later | Q(pk__in=first)))


@dataclass(frozen=True, slots=True)
class HeldThen:
    """What a summary said of the holds on its tool at a moment of the past."""

    tool_id: int
    state: dict[str, Any]
    held_since: datetime | None


def holding(states: Mapping[int, State], recipes: Mapping[str, RecipeVersion], at: datetime) -> dict[int, list[Entry]]:
    """The same as of any moment, by how these tools stood then, in one query; none where no tool was held.

    recipes: those in force then, by their codes.
    """
    held = {key: state for key, state in states.items() if state.holds}
    if not held:
        return {}
    wanted = Q(pk__in={pk for state in held.values() for pk in state.holds.values()})
    for key, state in held.items():
        begins = Entry.objects.filter(pk=min(state.holds.values())).values("at")
        wanted |= Q(tool=key, kind__in=_KINDS, at__gte=Subquery(begins), at__lte=at)
    entries = _entries(wanted)
    since = {one.pk: one.at for one in entries}
    then = [
        (HeldThen(key, {"holds": state.holds}, since.get(min(state.holds.values()))), recipes.get(state.system or ""))
        for key, state in held.items()
    ]
    return _of_each(then, entries)


def _entries(wanted: Q) -> list[Entry]:
    nth = Window(RowNumber(), partition_by="tool_id", order_by=("at", "pk"))
    standing = Entry.objects.filter(wanted).standing().annotate(nth=nth).filter(nth__lte=_MOST)
    return sorted(standing.select_related("by", "tool"), key=attrgetter("at", "pk"))


def _of_each(held: Iterable[tuple[Holding, RecipeVersion | None]], entries: list[Entry]) -> dict[int, list[Entry]]:
    return {summary.tool_id: [one for one in entries if _holds(one, summary, recipe)] for summary, recipe in held}


def said_with_pictures(found: dict[int, list[Entry]], at: datetime, zone: tzinfo) -> dict[int, list[HoldSaid]]:
    """The entries that hold tools, by the tools' keys, as they are said: one query for the pictures of all."""
    return said(found, at, zone, of_entries(one.pk for holds in found.values() for one in holds))


def said(
    found: Mapping[int, list[Entry]], at: datetime, zone: tzinfo, pictures: Mapping[int, list[Picture]] | None = None
) -> dict[int, list[HoldSaid]]:
    """The same without pictures, or with those that were read."""
    given = pictures or {}
    return {pk: [HoldSaid(one, since(one, at, zone), given.get(one.pk, [])) for one in of] for pk, of in found.items()}


def _holds(entry: Entry, summary: Holding, recipe: RecipeVersion | None) -> bool:
    """Whether the entry is one of those that hold the tool, for a reason that still stands."""
    reasons = summary.state.get("holds", {})
    if entry.pk in reasons.values():
        return True
    if entry.tool_id != summary.tool_id or summary.held_since is None or entry.at < summary.held_since:
        return False
    if entry.kind == "hold":
        return "hold" in reasons
    if entry.kind == "inspected":
        return "inspection_failed" in reasons and entry.payload.get("passed") is not True
    return _hard(entry, summary, recipe)


def _hard(pull: Entry, summary: Holding, recipe: RecipeVersion | None) -> bool:
    """A pull that marked the surface, or came off as hard as stops it."""
    reasons = summary.state["holds"]
    if pull.kind != "pull" or pull.payload.get("surface", summary.tool_id) != summary.tool_id:
        return False
    if "tool_damaged" in reasons and pull.payload.get("tool_damaged"):
        return True
    line = recipe.hold_from if recipe is not None else "lost"
    return "came_off" in reasons and bool(pull.came_off) and severity(pull.came_off) >= severity(line)
