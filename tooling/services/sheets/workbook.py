"""An .xlsx workbook, read and written row by row."""

import re
import warnings
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
from django.utils.translation import gettext as _
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles.numbers import is_datetime

from shared.errors import Refused
from tooling.services.sheets.cells import LONGEST_TEXT, Broken, Cell
from tooling.services.sheets.escapes import from_xml, to_xml
from tooling.services.sheets.reading import Found, Lines
from tooling.services.sheets.unpacked import check_size, copy_without_clock
from tooling.services.sheets.writing import Put, Target

_MOST_ROWS = 1_048_576
_MOST_COLUMNS = 1_000
_ONLY_ZEROS = re.compile(r"0+")
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s/>]")
_LIKE_CODE = ("=", "+", "-", "@", "\t", "\r", "\n", "#")


@contextmanager
def opened(path: Path, *, looks_for_formulas: bool = True) -> Iterator[list[Found]]:
    """The sheets of a workbook, formulas by the values that they showed last.

    Without `looks_for_formulas` one that was never worked out reads as an empty cell: for a first look at a large file.
    """
    with warnings.catch_warnings():
        # about drop-down lists and the like, which are not read
        warnings.filterwarnings("ignore", category=UserWarning, module="openpyxl")
        with _reading(path):
            check_size(path)
            unshown = _unshown_formulas(path) if looks_for_formulas and _has_formulas(path) else {}
            book = openpyxl.load_workbook(path, read_only=True, data_only=True)
        try:
            yield [_found(sheet, path, unshown.get(sheet.title, frozenset())) for sheet in book.worksheets]
        finally:
            book.close()


@contextmanager
def _reading(path: Path) -> Iterator[None]:
    """Whatever a damaged file makes openpyxl raise, it is a file that cannot be read."""
    try:
        yield
    except Refused:
        raise
    except OSError as bad:
        raise Refused(_("%(file)s cannot be read: %(why)s.") % {"file": path.name, "why": bad.strerror or bad}) from bad
    except Exception as bad:
        message = _("%(file)s is no workbook that can be read. Open it in a spreadsheet and save it again as .xlsx.")
        raise Refused(message % {"file": path.name}) from bad


def _has_formulas(path: Path) -> bool:
    with zipfile.ZipFile(path) as packed:
        for info in packed.infolist():
            if info.filename.startswith("xl/worksheets/") and info.filename.endswith(".xml"):
                with packed.open(info) as stream:
                    end = b""
                    while piece := stream.read(1 << 20):
                        if _FORMULA.search(end + piece):
                            return True
                        end = piece[-30:]
    return False


def _unshown_formulas(path: Path) -> dict[str, frozenset[tuple[int, int]]]:
    """Where formulas stand, by sheet: one that was never worked out would read as an empty cell."""
    book = openpyxl.load_workbook(path, read_only=True)
    try:
        return {sheet.title: frozenset(_formulas(sheet)) for sheet in book.worksheets}
    finally:
        book.close()


def _formulas(sheet: Any) -> Iterator[tuple[int, int]]:
    sheet.reset_dimensions()
    for number, cells in enumerate(sheet.iter_rows(), 1):
        for place, cell in enumerate(cells):
            if cell.data_type == "f":
                yield number, place


def _found(sheet: Any, path: Path, formulas: frozenset[tuple[int, int]]) -> Found:
    return Found(sheet.title, lambda: _lines(sheet, path, formulas))


def _lines(sheet: Any, path: Path, formulas: frozenset[tuple[int, int]]) -> Lines:
    sheet.reset_dimensions()  # some programs write wrong ones
    rows = iter(sheet.iter_rows())
    number = 0
    while True:
        with _reading(path):
            cells = next(rows, None)
        if cells is None:
            return
        number += 1
        if number > _MOST_ROWS or len(cells) > _MOST_COLUMNS:
            raise Refused(_("The sheet %(sheet)s is larger than a spreadsheet can be.") % {"sheet": sheet.title})
        line: list[Cell] = [_cell(cell) for cell in cells]
        for place, cell in enumerate(line):
            if cell is None and (number, place) in formulas:
                line[place] = Broken(_("This formula was never worked out. Save the file in a spreadsheet first."))
        yield number, line


def _cell(cell: Any) -> Cell:
    """A cell as a person sees it."""
    value = cell.value
    if value is None:
        return None
    if isinstance(value, str):
        if cell.data_type == "e":
            return Broken(_("The cell shows the error %(error)s.") % {"error": value})
        return from_xml(value)
    if isinstance(value, bool):
        return value
    if isinstance(value, int | float):
        return _number(value, cell.number_format)
    if isinstance(value, datetime):
        return _moment(value, cell.number_format)
    if isinstance(value, date | time):
        return value
    return Broken(_("The cell shows a length of time. Format it as text or as a number and type it again."))


def _moment(value: datetime, number_format: str) -> date | datetime:
    """A number of days holds no exact second: what no format shows is noise. Nor does it tell midnight from no time."""
    if is_datetime(number_format) == "date":
        return value.date()
    if ".0" in number_format:
        return value
    return (value + timedelta(milliseconds=500)).replace(microsecond=0)


def _number(value: float, number_format: str) -> Cell:
    """Fifteen digits are what a spreadsheet shows and means; 007 is 7 in a format of three zeros."""
    number: int | Decimal
    if isinstance(value, int) or (value.is_integer() and abs(value) < 1e15):
        number = int(value)
    else:
        number = Decimal(f"{value:.15g}")
    if isinstance(number, int) and number >= 0 and number_format != "0" and _ONLY_ZEROS.fullmatch(number_format):
        return str(number).zfill(len(number_format))
    return number


@contextmanager
def target(path: Path) -> Iterator[Target]:
    """A workbook to write, put in place when it is whole. Two of the same shop are the same file, whenever written."""
    book = openpyxl.Workbook(write_only=True)
    yield lambda name, header: _sheet(book, name, header)
    draft, part = (path.with_name(f".{path.name}.{ending}") for ending in ("draft", "part"))
    try:
        book.save(draft)
        copy_without_clock(draft, part)
        part.replace(path)
    finally:
        draft.unlink(missing_ok=True)
        part.unlink(missing_ok=True)


@contextmanager
def _sheet(book: Any, name: str, header: Sequence[str]) -> Iterator[Put]:
    sheet = book.create_sheet(name)
    sheet.freeze_panes = "A2"
    sheet.append(list(header))
    try:
        yield lambda cells: sheet.append([written(sheet, cell) for cell in cells])
    finally:
        sheet.close()


def written(sheet: Any, cell: Any) -> Any:
    """A value for a cell of a sheet that is being written; nothing of it is ever run."""
    if isinstance(cell, Decimal) and len(cell.as_tuple().digits) > 15:
        cell = f"{cell:f}"  # a spreadsheet's number has no more digits
    if not isinstance(cell, str):
        return cell
    text = to_xml(cell)
    if len(text) > LONGEST_TEXT:
        raise Refused(_("A text is too long for a workbook. Export into a folder of .csv instead."))
    if not text.startswith(_LIKE_CODE):
        return text
    # a string that says so, and stays one when somebody edits the cell
    guarded = WriteOnlyCell(sheet)
    guarded._value, guarded.data_type, guarded.quotePrefix = text, "s", True
    return guarded
