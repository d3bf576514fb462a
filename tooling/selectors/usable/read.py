"""What is read of some tools as of a moment, once, for whatever is asked of them: for one part or for many."""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from functools import cached_property
from typing import Any, TypeVar

from django.db.models import Exists, OuterRef, Q

from tooling.calc.recipe import RecipeBook
from tooling.calc.state import State, decode
from tooling.models import Entry, Kind, LeadNote, RecipeVersion, Shop, Summary, Temperature, Tool
from tooling.selectors.history import History
from tooling.selectors.holds import holding
from tooling.selectors.inserts_inside import Inside, last_inside
from tooling.selectors.look_overs import LookOver, counted_in, stored
from tooling.selectors.past_limits import PastLimit, past_limits
from tooling.selectors.release import Surface, surfaces
from tooling.selectors.shop_temperature import shop_temperature
from tooling.selectors.usable.rows import rows
from tooling.selectors.whereabouts import Whereabouts, of_summary, whereabouts

_REPAIRS = ("repair", "resurfaced")
T = TypeVar("T")


class Read:
    """Each of these is read when it is first wanted, in as many queries for one tool as for a hundred."""

    def __init__(self, tools: Iterable[Tool], at: datetime, *, vacuum: bool = False, shop: Shop | None = None) -> None:
        """vacuum: some part is bagged. shop: where it was read already."""
        self.tools = {tool.pk: tool for tool in tools}
        self.at, self.vacuum = at, vacuum
        self._shop = shop
        self._kept: dict[Any, Any] = {}

    def once(self, ask: Callable[["Read"], T]) -> T:
        """What a family of another app reads of all these tools, read once as well."""
        if ask not in self._kept:
            self._kept[ask] = ask(self)
        return self._kept[ask]

    @cached_property
    def shop(self) -> Shop:
        """The shop, for its zone."""
        return self._shop or Shop.current()

    @cached_property
    def recipes(self) -> dict[str, RecipeVersion]:
        """The recipes in force, by their codes."""
        begun = (one for one in self._versions if one.valid_from is None or one.valid_from <= self.at)
        return {one.system.code: one for one in begun}

    @cached_property
    def book(self) -> RecipeBook:
        """All recipes, as the rules read them."""
        return RecipeBook(version.as_calc() for version in self._versions)

    def version_at(self, system: str | None, at: datetime) -> RecipeVersion | None:
        """The version of a recipe that is in force at some other moment."""
        every = (one for one in self._versions if one.system.code == system)
        begun = [one for one in every if one.valid_from is None or one.valid_from <= at]
        return begun[-1] if begun else None

    @cached_property
    def _versions(self) -> list[RecipeVersion]:
        if not any(one.tool.has_surface for one in self.summaries.values()):
            return []
        return list(RecipeVersion.objects.select_related("system").in_order())

    @cached_property
    def summaries(self) -> dict[int, Summary]:
        """By its key the row of every tool, of every insert that was ever in one, and of the molds that match them."""
        matched = {tool.matched_set for tool in self.tools.values() if tool.kind == Kind.MOLD} - {""}
        kinds = {tool.kind for tool in self.tools.values()}
        found = rows(self.tools.keys(), matched, self.at, kinds=kinds, vacuum=self.vacuum)
        return {one.tool_id: one for one in found}

    @cached_property
    def halves(self) -> dict[str, list[Tool]]:
        """The molds of each matched set, in code order."""
        found: dict[str, list[Tool]] = {}
        for tool in sorted((one.tool for one in self.summaries.values()), key=lambda tool: tool.code):
            if tool.kind == Kind.MOLD and tool.matched_set:
                found.setdefault(tool.matched_set, []).append(tool)
        return found

    @cached_property
    def history(self) -> History:
        """Of the tools that have gone on since; the stored states answer for the others."""
        history = History(self.book, self.shop.zone, self.at)
        history.read_with_molds(one.tool for one in self.summaries.values() if not self.is_stored(one))
        return history

    def is_stored(self, one: Summary) -> bool:
        """Whether the stored state is that of the moment."""
        return one.last_at is None or one.last_at <= self.at

    @cached_property
    def states(self) -> dict[int, State]:
        """How the surface of each tool stood, by its key."""
        return {
            key: decode(one.state) if self.is_stored(one) else self.history.folded(one.tool).state
            for key, one in self.summaries.items()
        }

    @cached_property
    def surfaces(self) -> dict[int, list[Surface]]:
        """The release surfaces of each tool by its key: its own first, then those of the inserts that are in it."""
        return surfaces(self.tools.values(), "", summaries=self.summaries.values(), history=self.history)

    def is_making(self, tool: Tool) -> bool:
        """Whether nobody had accepted it yet."""
        return bool(self.summaries[tool.pk].making_then)  # type: ignore[attr-defined]

    def is_unaccepted(self, tool: Tool) -> bool:
        """Whether it was brought back since formal records are on, and nobody had accepted it since."""
        return bool(self.summaries[tool.pk].unaccepted)  # type: ignore[attr-defined]

    def look_over(self, tool: Tool) -> LookOver | None:
        """When it is to be looked over next; None where none is asked for."""
        one = self.summaries[tool.pk]
        found = stored(one)
        if found is None or (self.is_stored(one) and not one.later):  # type: ignore[attr-defined]
            return found
        return counted_in(one.tool, vars(one), self.shop.zone)

    def vacuum_of(self, tool: Tool) -> tuple[Mapping[str, Any], datetime | None, datetime | None]:
        """What the last reading of the vacuum drop said, when it was, and when the surface was worked on last."""
        one = vars(self.summaries[tool.pk])
        return one.get("reading") or {}, one.get("reading_at"), one.get("worked_at")

    @cached_property
    def past_limits(self) -> dict[int, list[PastLimit]]:
        """By the key of each tool what was read of it last and is past a limit; no query where there is no limit."""
        found: dict[int, list[PastLimit]] = {}
        limited = (one.tool for one in self.summaries.values() if one.has_limit)  # type: ignore[attr-defined]
        for one in past_limits(limited, self.at):
            found.setdefault(one.key, []).append(one)
        return found

    @cached_property
    def whereabouts(self) -> dict[int, Whereabouts]:
        """Where each tool was."""
        gone_on = {key for key, one in self.summaries.items() if one.later and key in self.tools}  # type: ignore[attr-defined]
        then = whereabouts(gone_on, self.at) if gone_on else {}
        return {key: then[key] if key in then else of_summary(self.summaries[key]) for key in self.tools}

    @cached_property
    def last_inside(self) -> dict[int, Inside]:
        """By the key of a mold when it was last used, and the inserts that were in it; only where some are out now."""
        ever = [one for key, one in self.summaries.items() if key not in self.tools or one.tool.kind == Kind.INSERT]
        molds = [key for key, tool in self.tools.items() if tool.kind in Kind.TAKES_INSERTS]
        return last_inside(molds, self.at) if ever and molds else {}

    @cached_property
    def told(self) -> list[Entry]:
        """What was told to the lead, and no lead had seen it."""
        return [one for one in self._said if one.kind == "note"]

    @cached_property
    def repairs(self) -> list[Entry]:
        """Repairs, and new surfaces, in the order in which they happened."""
        return [one for one in self._said if one.kind in _REPAIRS]

    @cached_property
    def _said(self) -> list[Entry]:
        unseen = LeadNote.objects.filter(Q(seen_at=None) | Q(seen_at__gt=self.at), entry=OuterRef("pk"))
        wanted = Q(kind__in=_REPAIRS) | Q(Exists(unseen), kind="note")
        found = Entry.objects.filter(wanted, tool__in=self.summaries.keys(), at__lte=self.at).standing()
        return list(found.select_related("by", "tool").order_by("at", "pk"))

    @cached_property
    def holds(self) -> dict[int, list[Entry]]:
        """The entries that held each tool, the first first; no query where none was held."""
        return holding({key: state for key, state in self.states.items() if state.holds}, self.recipes, self.at)

    @cached_property
    def temperature(self) -> Temperature | None:
        """The last of the shop that was measured on the day."""
        return shop_temperature(self.at, self.shop.zone)
