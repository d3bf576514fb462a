"""Sheets of theirs put together as the importer wants them, and the way back from a row of ours to one of theirs."""

from array import array
from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from tooling.models import Kind, MovingIn
from tooling.services.moving_in.lines import no_tool
from tooling.services.moving_in.looking import named
from tooling.services.moving_in.matching import Match, words
from tooling.services.moving_in.ours import InOurs
from tooling.services.moving_in.places_met import Places
from tooling.services.moving_in.recipes_of import Recipes
from tooling.services.moving_in.starts import COLUMNS as START_COLUMNS
from tooling.services.moving_in.starts import COUNTED, Starts
from tooling.services.moving_in.tables import Theirs
from tooling.services.moving_in.targets import HISTORY, PLACES, START_NAMES, TOOLS, Target, targets
from tooling.services.sheets.cells import Broken, Cell, folded, is_blank, shown
from tooling.services.sheets.reading import Found, Lines
from tooling.services.sheets.registry import sheets
from tooling.words.counting import capital
from tooling.words.terms import KINDS

Values = dict[str, Cell]
Out = Mapping[int, Container[int]]
PLACE = (TOOLS, "place")
_NAMES_A_PLACE = {(TOOLS, "place"), (HISTORY, "place"), (PLACES, "parent")}


@dataclass(frozen=True, slots=True)
class Spot:
    """A cell of theirs: which of their sheets, row, and place from 0; None for a row as a whole."""

    theirs: int
    row: int
    place: int | None


@dataclass(frozen=True, slots=True)
class _Source:
    """Where rows of ours come from: one of their sheets, and in which place each column of ours stands there."""

    theirs: int
    places: dict[str, int]


class Joined:
    """An upload as sheets of ours. `doubts` fill up while they are read; so does the way back."""

    def __init__(
        self, moving: MovingIn, theirs: list[Theirs], matched: list[Match], count: Callable[[], None], out: Out
    ) -> None:
        """`count` is called for every row that is read; those in `out` are passed over."""
        given, self._out = moving.given, out
        self.leaves_lines = bool(given.get("leave_lines"))
        self._recipes = Recipes.said_in(given)
        self.lines: dict[tuple[int, int], str] = {}  # what is no tool, by sheet of theirs and row
        self._theirs, self._matched, self._count = theirs, matched, count
        self.takes_proposed = bool(given.get("proposed_codes"))
        self._has_comma = any(one.found.decimal_comma for one in theirs)
        self._words = words()
        self._in_ours = InOurs(
            self._words, days=given.get("days", ""), takes_proposed=self.takes_proposed, decimal_comma=self._has_comma
        )
        self.doubts = self._in_ours.doubts
        said = {theirs: ours for (sheet, column, theirs), ours in self._words.items() if (sheet, column) == PLACE}
        self.places = Places.of_the_shop(said, makes_others=bool(given.get("make_places")))
        self._starts = Starts(moving.added_at, moving.name)
        self.placed = [self._places_of(index) for index in range(len(matched))]
        self.rows = 0  # of theirs that were read as ours
        self._sources: list[_Source] = []
        self._origins: dict[str, tuple[array[int], array[int]]] = {}

    def found(self) -> list[Found]:
        """The sheets, as the importer takes them."""
        self._look_ahead()
        names = {one.sheet for one in self._matched if one.sheet}
        if any(self._has_start(one) for one in self._matched):
            names.add(HISTORY)
        if self.places.new:
            names.add(PLACES)
        return [
            Found(sheet.name, lambda name=sheet.name: self._lines(name), self._has_comma)  # type: ignore[misc]
            for sheet in sheets()
            if sheet.name in names
        ]

    def spot(self, sheet: str, row: int, column: str) -> Spot:
        """Where a cell of ours stands in theirs; the header where no row is meant."""
        sources, rows = self._origins.get(sheet, (array("l"), array("l")))
        if 2 <= row < len(rows) + 2:
            source = self._sources[sources[row - 2]]
            return Spot(source.theirs, rows[row - 2], source.places.get(column))
        index = next((place for place, one in enumerate(self._matched) if one.sheet == sheet), 0)
        return Spot(index, self._matched[index].look.header_row if self._matched else 1, None)

    def row_said(self, sheet: str, row: int) -> str:
        """The row of theirs that a row of ours is, to be named in a sentence."""
        spot = self.spot(sheet, row, "")
        if len({source.theirs for source in self._sources}) < 2:
            return str(spot.row)
        return _("%(row)d of %(sheet)s") % {"row": spot.row, "sheet": self._matched[spot.theirs].look.title}

    # ---- reading theirs ----

    def _look_ahead(self) -> None:
        """Recipes and places that the upload itself brings, then the places that its tools lie at."""
        for index, one in enumerate(self._matched):
            for _row, values in self._rows(index) if one.sheet in ("release_systems", PLACES) else ():
                if one.sheet == PLACES:
                    code, _old = self._in_ours.code(values.get("code"))
                    self.places.add(str(code or "").strip().upper(), str(values.get("name") or ""))
                else:
                    self._in_ours.know_recipe(str(values.get("code") or ""))
        for index, one in enumerate(self._matched):
            if one.sheet == TOOLS and "place" in one.columns.values():
                source = self._source(index, {"code": "place", "name": "place"})
                for row, values in self._rows(index):
                    self.places.meet(values.get("place"), source, row)
        self.doubts.forget()

    def _has_start(self, one: Match) -> bool:
        return one.sheet == TOOLS and any(name in START_NAMES for name in one.columns.values())

    def _places_of(self, index: int) -> list[tuple[int, Target]]:
        """Which place of theirs is what, by the columns as they are named in the file."""
        one = self._matched[index]
        choices = targets(one.sheet)
        header = next((cells for row, cells in self._theirs[index].found.lines() if row >= one.look.header_row), ())
        found = []
        for place, key, _title in named(header, max((column.place for column in one.look.columns), default=-1) + 1):
            name = one.columns.get(key, "")
            if name:
                found.append((place, choices[name]))
        return found

    def _source(self, index: int, also: dict[str, str] | None = None) -> int:
        """A new source of rows; `also` has columns of ours that stand where another one does."""
        places = {target.column.name: place for place, target in self.placed[index]}
        places.update({ours: places[other] for ours, other in (also or {}).items() if other in places})
        self._sources.append(_Source(index, places))
        return len(self._sources) - 1

    def _rows(self, index: int) -> Iterator[tuple[int, Values]]:
        """The filled rows of one sheet of theirs, in our words."""
        one, placed, out = self._matched[index], self.placed[index], self._out.get(index, ())
        for row, cells in self._theirs[index].found.lines():
            self._count()
            filled = [(target, cell) for place, target in placed if not is_blank(cell := _at(cells, place))]
            if row <= one.look.header_row or not filled or row in out:
                continue
            line = no_tool(one, {target.name: cell for target, cell in filled}) if one.sheet == TOOLS else ""
            if line:
                self.lines[index, row] = line
                if self.leaves_lines:
                    continue
            self._in_ours.begin_row()
            values = {target.column.name: self._cell(one.sheet, target, _at(cells, place)) for place, target in placed}
            yield row, self._with_kept(one, values) if one.sheet == TOOLS else values

    def _with_kept(self, one: Match, values: Values) -> Values:
        """What is not known is no nought; and what nobody can count with stays legible in the note."""
        kept = [(name, text) for name, text in self._in_ours.kept]
        if folded(str(values.get("kind") or one.kind)) == Kind.TRIM_MASK:
            # nothing is laid up on a trim mask: what its line says of wax is legible, and no state
            coats = {name: values.pop(name) for name in START_NAMES if values.get(name) is not None}
            kept += [(name, shown(cell)) for name, cell in coats.items() if not isinstance(cell, Broken)]
        elif self._in_ours.not_known & COUNTED and values.get("prepared") is None:
            values["prepared"] = "unknown"
        if kept:
            said = values.get("note")
            titled = [f"{one.title_of(name)}: {text}" for name, text in kept]
            values["note"] = said if isinstance(said, Broken) else "; ".join(filter(None, [str(said or ""), *titled]))
        return values

    def _cell(self, sheet: str, target: Target, cell: Cell) -> Cell:
        said = self._in_ours.cell(sheet, target, cell)
        return self.places.called(said) if (sheet, target.name) in _NAMES_A_PLACE else said

    # ---- writing ours ----

    def _lines(self, name: str) -> Lines:
        header = self._header(name)
        sources, rows = self._origins.setdefault(name, (array("l"), array("l")))
        del sources[:], rows[:]
        yield 1, list(header)
        for source, row, values in self._all(name):
            sources.append(source)
            rows.append(row)
            yield len(rows) + 1, [values.get(column) for column in header]

    def _header(self, name: str) -> tuple[str, ...]:
        """The columns of ours that anything is said in: those that are needed stand there even where nothing is."""
        ours = next(sheet for sheet in sheets() if sheet.name == name)
        said = {target.column.name for index, one in enumerate(self._matched) if one.sheet == name
                for _place, target in self.placed[index]}  # fmt: skip
        if name == TOOLS:
            said |= {"aliases", "name", "note"} | ({"kind"} if any(one.kind for one in self._matched) else set())
            said |= {"release_system"} if self._recipes.of else set()
        if name == HISTORY and any(self._has_start(one) for one in self._matched):
            said |= set(START_COLUMNS)
        if name == PLACES and self.places.new:
            said |= {"code", "name", "parent"}
        return tuple(column.name for column in ours.columns if column.name in said)

    def _all(self, name: str) -> Iterator[tuple[int, int, Values]]:
        if name == HISTORY:
            yield from self._starts.rows()
        if name == PLACES:
            for met in self.places.new:
                yield met.source, met.row, {"code": met.code, "name": met.name, "parent": met.parent or None}
        for index, one in enumerate(self._matched):
            if one.sheet != name:
                continue
            source = self._source(index)
            started = self._source(index, {"tool": "code", "at": "last_coat"}) if self._has_start(one) else None
            for row, values in self._rows(index):
                if name in (TOOLS, PLACES):
                    values = self._with_code(name, values, one)
                if started is not None:
                    self._starts.add(started, row, values)
                self.rows += 1
                yield source, row, values

    def _with_code(self, name: str, values: Values, one: Match) -> Values:
        typed = values.get("code")
        code, old = self._in_ours.code(typed)
        values = {**values, "code": code}
        if name == TOOLS:
            if old:
                values["aliases"] = ", ".join(filter(None, [str(values.get("aliases") or ""), old]))
            if "kind" not in one.columns.values():
                values["kind"] = one.kind or None
            if "name" not in one.columns.values():
                values["name"] = typed
            elif values.get("name") is None:
                values["name"] = _kind_as_name(values["kind"])
            self._recipes.fill(values)
        return values


def _kind_as_name(kind: Cell) -> str | None:
    """What a tool without a name is called, as on a walk; a kind that is none is found wrong alone."""
    if not isinstance(kind, str):
        return None
    return capital(str(KINDS.get(folded(kind), kind)))


def _at(cells: Sequence[Cell], place: int) -> Cell:
    return cells[place] if place < len(cells) else None
