"""One sheet: its columns, and its rows as they are read."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import chain, zip_longest
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person
from tooling.services.sheets.cells import TEXT, Cell, Frame, Kind, is_blank, shown
from tooling.services.sheets.report import Report

_ANY = Frame(UTC)


@dataclass(frozen=True, slots=True)
class Column:
    """A column by its name. `needed`: every row fills it; `empty`: what a cell that says nothing means.

    `beside`: it only says how another column came about, so two rows that differ in it say the same.
    `one_unit`: nothing in it has a unit of its own, so that the sizes of one row are never mixed.
    """

    name: str
    kind: Kind = TEXT
    needed: bool = False
    empty: Any = None
    beside: bool = False
    one_unit: bool = False

    def cell(self, value: Any, frame: Frame) -> Any:
        """How a value stands in a cell; None for what says nothing."""
        return None if value is None or value in ("", (), {}) else self.kind.write(value, frame)

    def says_same(self, one: Any, other: Any) -> bool:
        """Whether two values stand in a cell alike."""
        return bool(self.beside or one == other or self.cell(one, _ANY) == self.cell(other, _ANY))


@dataclass(slots=True)
class Row:
    """A row by its number, with what its filled cells mean and what is wrong with them."""

    number: int
    cells: dict[str, Cell]
    values: dict[str, Any]
    wrong: dict[str, str]

    def typed(self, column: str) -> str:
        """A code as it stands there, also where it cannot be one."""
        cell = self.cells.get(column)
        try:
            return "" if cell is None else " ".join(shown(cell).upper().split())
        except Refused:
            return ""


@dataclass
class Load:
    """An import on its way: what is known of the shop and of the sheets read so far."""

    frame: Frame
    now: datetime
    is_empty: bool
    by: Person | None = None  # who brings it in
    column_said: Callable[[str], str] = str
    row_said: Callable[[str, int], str] = lambda _sheet, row: str(row)
    report: Report = field(default_factory=Report)
    kept: dict[str, Any] = field(default_factory=dict)  # by sheet: what it read and will write
    unread: set[str] = field(default_factory=set)  # sheets whose rows cannot be understood
    touched: set[int] = field(default_factory=set)  # tools whose summaries and spans are to be laid


@dataclass(frozen=True)
class Sheet:
    """A sheet: `take` reads and checks its rows, `write` writes what was taken, `give` is what it holds now.

    `take` is called for every sheet, with no rows for one that is not there, and in the order of the registry: it may
    look at what earlier sheets took. `write` returns how many rows it wrote. `give` yields values by column.
    """

    name: str
    columns: tuple[Column, ...]
    take: Callable[[Iterable[Row], Load], None]
    write: Callable[[Load], int]
    give: Callable[[], Iterator[Mapping[str, Any]]]


class Codes:
    """The codes that a cell may name: those of the shop and of the sheet, also where a row is wrong elsewhere."""

    def __init__(self, known: Iterable[str]) -> None:
        """Knows those of the shop."""
        self._known = set(known)
        self.is_unread = False  # where the sheet has no column of codes, nobody knows which there are

    def add(self, code: str) -> None:
        """One more, from a sheet."""
        if code:
            self._known.add(code)

    def __contains__(self, code: str) -> bool:
        return self.is_unread or code in self._known


def read_rows(sheet: Sheet, lines: Iterable[tuple[int, Sequence[Cell]]], frame: Frame, load: Load) -> Iterator[Row]:
    """The rows of a sheet below its header. Blank ones are passed over; where a needed column lacks there are none."""
    report = load.report
    report.read.setdefault(sheet.name, 0)
    report.order(sheet.name, (column.name for column in sheet.columns))
    lines = iter(lines)
    __, header = next(lines, (1, ()))
    filled: Iterator[tuple[int, Sequence[Cell]]] = (
        (number, cells) for number, cells in lines if not all(map(is_blank, cells))
    )
    if all(map(is_blank, header)):
        first = next(filled, None)
        if first is None:  # an empty sheet says nothing
            return
        filled = chain([first], filled)
    places = _places(sheet, header, report)
    if places is None:
        load.unread.add(sheet.name)
    for number, cells in filled:
        report.read[sheet.name] += 1
        for place, cell in enumerate(cells):
            if not is_blank(cell) and (place >= len(header) or is_blank(header[place])):
                report.wrong(sheet.name, 1, letters(place), _("Something stands in a column that has no name."))
        if places is not None:
            row = _row(number, cells, places, frame)
            _check_needed(sheet, row, load)
            yield row


def _places(sheet: Sheet, header: Sequence[Cell], report: Report) -> list[Column | None] | None:
    """What stands in each place of a row; None where the rows cannot be understood."""
    columns = {column.name: column for column in sheet.columns}
    places: list[Column | None] = []
    names = [_column_name(cell) for cell in header]
    for place, name in enumerate(names):
        places.append(columns.get(name))
        if name and name not in columns:
            message = _("There is no column of this name. Rename it, or take it out: %(columns)s.")
            report.wrong(sheet.name, 1, str(header[place]).strip(), message % {"columns": ", ".join(columns)})
        elif name and name in names[:place]:
            report.wrong(sheet.name, 1, name, _("This column stands there twice."))
            places[place] = None
    missing = [column.name for column in sheet.columns if column.needed and column.name not in names]
    for name in missing:
        report.wrong(sheet.name, 1, name, _("This column is needed."))
    return None if missing else places


def _column_name(cell: Cell) -> str:
    return "" if is_blank(cell) else str(cell).strip().lower()


def letters(place: int) -> str:
    """What a spreadsheet calls the column in that place, from 0."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _row(number: int, cells: Sequence[Cell], places: Sequence[Column | None], frame: Frame) -> Row:
    row = Row(number, {}, {}, {})
    # a row that ends early says nothing in the columns behind
    for column, cell in zip_longest(places, cells):
        if column is None:
            continue
        if is_blank(cell):
            row.cells[column.name] = None
            continue
        row.cells[column.name] = cell
        try:
            row.values[column.name] = column.kind.read(cell, frame)
        except Refused as refused:
            row.wrong[column.name] = refused.message
        except ValidationError as refusal:
            row.wrong[column.name] = " ".join(refusal.messages)
    return row


def _check_needed(sheet: Sheet, row: Row, load: Load) -> None:
    for column in sheet.columns:
        if column.needed and column.name not in row.values and column.name not in row.wrong:
            row.wrong[column.name] = _("Fill in the %(column)s.") % {"column": load.column_said(column.name)}


def full(sheet: Sheet, row: Row) -> dict[str, Any]:
    """Every column of a row; what it does not say means what an empty cell means."""
    return {column.name: row.values.get(column.name, column.empty) for column in sheet.columns}


def note(sheet: str, row: Row, report: Report) -> None:
    """Reports what is wrong with a row."""
    for column, message in row.wrong.items():
        report.wrong(sheet, row.number, column, message)


def already_there(sheet: Sheet, code: str, given: Mapping[str, Any], wanted: Mapping[str, Any], load: Load) -> str:
    """What is wrong with a row whose code is in the shop; "" where it says the same as the shop."""
    differing = (one.name for one in sheet.columns if not one.says_same(given[one.name], wanted[one.name]))
    others = [load.column_said(name) for name in differing]
    if not others:
        return ""
    message = _("%(code)s is in the shop already, with another %(columns)s. Change it there, or take the row out.")
    return message % {"code": code, "columns": ", ".join(others)}


def no_such(what: str, code: str) -> str:
    """What is wrong with a cell that names something that is nowhere."""
    return _("There is no %(what)s %(code)s in the shop or in these sheets.") % {"what": what, "code": code}
