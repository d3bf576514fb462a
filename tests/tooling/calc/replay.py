"""Deeds of a made-up shop, and every surface of it folded by the pure functions."""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

from tooling.calc.entry import Entry
from tooling.calc.fold import Folded, fold
from tooling.calc.membership import Stay, reached, stays, uses, with_uses
from tooling.calc.order import Placed, effective
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.status import Status, combine, status_of

# A deed: tool, kind, at, recorded_at, by, fields (a dict), replaces and voids (places in the list of deeds, or None).
Deed = dict[str, Any]

_FIELDS = {f.name for f in fields(Entry)}


@dataclass(frozen=True)
class Shop:
    """Tools by code, the recipe that each begins with, and all recipe rows."""

    zone: ZoneInfo
    rows: tuple[Recipe, ...]
    molds: tuple[str, ...]
    inserts: tuple[str, ...]
    systems: dict[str, str | None]

    @property
    def tools(self) -> tuple[str, ...]:
        return (*self.molds, *self.inserts)

    @cached_property
    def book(self) -> RecipeBook:
        return RecipeBook(self.rows)

    def with_row(self, row: Recipe) -> "Shop":
        return replace(self, rows=(*self.rows, row))


@dataclass(frozen=True)
class History:
    """A shop and what was done in it, in recording order."""

    shop: Shop
    deeds: list[Deed]

    @cached_property
    def entries(self) -> list[Entry]:
        return [entry_of(deed, place) for place, deed in enumerate(self.deeds)]

    @cached_property
    def moments(self) -> list[datetime]:
        """Every instant at which something happened, earliest first."""
        return sorted({deed["at"] for deed in self.deeds})

    @property
    def end(self) -> datetime:
        return max(deed["recorded_at"] for deed in self.deeds)

    def prefix(self, as_of: datetime) -> list[Entry]:
        """What stands of what had happened, found out the slow way, as entries that replace nothing.

        Each carries the number of the first of its chain, so the order among those of one instant is kept.
        """
        gone = {place for deed in self.deeds for place in (deed["voids"], deed["replaces"])}
        return [
            replace(self.entries[place], id=self.root(place) + 1, replaces=None)
            for place, deed in enumerate(self.deeds)
            if place not in gone and deed["kind"] != "void" and deed["at"] <= as_of
        ]

    def root(self, place: int) -> int:
        """Where the first of a chain of corrections stands in the list."""
        earlier = self.deeds[place]["replaces"]
        return place if earlier is None else self.root(earlier)

    def board(self, as_of: datetime | None = None, known_at: datetime | None = None) -> "Board":
        return Board(self.shop, self.entries, as_of, known_at)

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        """What hypothesis prints."""
        printer.text(repr(self))

    def __repr__(self) -> str:
        """One deed a line, so that a falsifying example can be read."""
        shop = self.shop
        given = [f"zone={shop.zone} systems={shop.systems}", *(_unlike_default(row) for row in shop.rows)]
        lines = [
            f"{place}: {deed['at'].isoformat()} {deed['tool']} {deed['kind']} {deed['fields']}"
            f" by={deed['by']} replaces={deed['replaces']} voids={deed['voids']}"
            for place, deed in enumerate(self.deeds)
        ]
        return "\n".join(["History", *given, *lines])


def entry_of(deed: Deed, place: int) -> Entry:
    """The entry of a deed; its number is its place in the list plus one. What the rules do not read is left out."""
    plain = {name: deed[name] for name in ("tool", "kind", "at", "recorded_at", "by")}
    targets = {name: None if deed[name] is None else deed[name] + 1 for name in ("replaces", "voids")}
    fields_read = {name: value for name, value in deed["fields"].items() if name in _FIELDS}
    return Entry(id=place + 1, **plain, **targets, **fields_read)


def _unlike_default(row: Recipe) -> str:
    given = {f.name: getattr(row, f.name) for f in fields(Recipe) if getattr(row, f.name) != f.default}
    return f"Recipe({', '.join(f'{name}={value!r}' for name, value in given.items())})"


class Board:
    """Every surface of a shop after what had happened by `as_of`, as it was known at `known_at`."""

    def __init__(
        self, shop: Shop, entries: Iterable[Entry], as_of: datetime | None = None, known_at: datetime | None = None
    ) -> None:
        self.shop = shop
        logs: dict[Hashable, list[Entry]] = {tool: [] for tool in shop.tools}
        for entry in entries:
            logs[entry.tool].append(entry)
        placed = {tool: effective(log, as_of=as_of, known_at=known_at) for tool, log in logs.items()}
        self.stays: dict[str, list[Stay]] = {tool: stays(placed[tool]) for tool in shop.inserts}
        self.uses = {mold: uses(placed[mold]) for mold in shop.molds}
        self.sequences: dict[str, Sequence[Placed]] = {
            tool: with_uses(placed[tool], self.stays[tool], self.uses) if tool in self.stays else placed[tool]
            for tool in shop.tools
        }
        self.folded: dict[str, Folded] = {
            tool: fold(sequence, tool, shop.systems[tool], shop.book, shop.zone)
            for tool, sequence in self.sequences.items()
        }

    @property
    def flags(self) -> set[tuple[int, str, str]]:
        return {(number, flag, tool) for tool, folded in self.folded.items() for number, flag in folded.flags}

    def installed(self, mold: str, at: datetime) -> list[str]:
        """The inserts in a mold, in code order."""
        return [tool for tool in sorted(self.stays) if reached(self.stays[tool], mold, [at])]

    def own(self, tool: str, at: datetime, part: str = "") -> Status:
        return status_of(self.folded[tool].state, tool, self.shop.book, self.shop.zone, at, part)

    def status(self, tool: str, at: datetime, part: str = "") -> Status:
        """A mold with its inserts, or an insert by itself."""
        return combine(self.own(tool, at, part), [self.own(insert, at, part) for insert in self.installed(tool, at)])
