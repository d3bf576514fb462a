"""What every rule of one entry is given: the entry, the surface it bears on, the recipe valid then, and the flags."""

from collections.abc import Hashable
from datetime import datetime, timedelta, tzinfo

from tooling.calc.due import expired
from tooling.calc.entry import Entry
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import State


class Step:
    """One entry on its way into one surface's state."""

    __slots__ = ("_flagged", "at", "book", "entry", "flags", "recipe", "state", "tool", "zone")

    def __init__(self, state: State, tool: Hashable, book: RecipeBook, zone: tzinfo) -> None:
        """Ties the surface's state to the shop's recipes and zone; `take` then sets entry after entry."""
        self.state = state
        self.tool = tool
        self.book = book
        self.zone = zone
        self.flags: list[tuple[int, str]] = []
        self._flagged: set[str] = set()
        self.entry: Entry
        self.at: datetime
        self.recipe: Recipe | None = None

    def take(self, entry: Entry) -> None:
        """Makes `entry` the one that the rules now judge, by the recipe row valid at its own time."""
        self.entry = entry
        self.at = entry.at
        if self._flagged:
            self._flagged = set()
        self.recipe = self.book.at(self.state.system, entry.at)

    def flag(self, name: str) -> None:
        """Flags the entry on this surface, once."""
        if name not in self._flagged:
            self._flagged.add(name)
            self.flags.append((self.entry.id, name))

    def latch(self, recipe: Recipe) -> None:
        """Keeps every time limit that has run out as a forced reason: a surface is not made fresh by being used."""
        over = expired(self.state, recipe, self.at, self.zone)
        if over.idle:
            self.state.forced.add("idle")
        if over.coat_age:
            self.state.forced.add("coat_age")
        if over.idle_long:
            self.state.forced_strip.add("idle_long")

    def not_before(self, hours: float) -> None:
        """Moves the earliest lay-up to `hours` after this entry, never earlier than it already stands."""
        ready = self.at + timedelta(hours=hours)
        if self.state.ready_at is None or self.state.ready_at < ready:
            self.state.ready_at = ready

    def force(self, reason: str) -> None:
        """Forces a touch-up; only a surface in service can need one."""
        if self.state.phase == "service":
            self.state.forced.add(reason)

    def hold(self, reason: str) -> None:
        """Holds the tool, and remembers whose hand did it."""
        self.state.holds.setdefault(reason, self.entry.id)
        if self.entry.by is not None:
            self.state.held_by.add(self.entry.by)
