"""The workbook to be mended: the shop's own, in which each wrong cell is coloured and says what to change."""

import logging
import warnings
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import openpyxl
from django.utils.translation import gettext as _
from openpyxl.cell import Cell as BookCell
from openpyxl.cell import MergedCell, WriteOnlyCell
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill

from tooling.models import MovingIn
from tooling.services.moving_in.files import sheets_folder
from tooling.services.moving_in.looking import WHAT_TO_CHANGE, Look, is_ours_to_ignore
from tooling.services.moving_in.matching import Match
from tooling.services.moving_in.tables import Theirs, Wrong, key_of
from tooling.services.sheets.cells import Broken, Cell
from tooling.services.sheets.workbook import written

_log = logging.getLogger(__name__)
_FILL = PatternFill("solid", fgColor="FFFFD966")
_MOST_WHOLE = 24 << 20  # of sheets unpacked: what is larger is written anew from its values, row by row
_MOST_NOTES = 2_000  # so many notes a spreadsheet still opens quickly
_MOST_COLUMNS = 1_000
_CHECK_OFTEN = 1_000
_TOP = 20  # lines in which the name of our own column is looked for


def mark_up(
    moving: MovingIn, theirs: list[Theirs], matched: list[Match], wrong: Wrong, path: Path, step: Callable[[], None]
) -> None:
    """Writes it. Cells, formats and formulas stay as they came, unless the upload is a table or very large."""
    source = next(iter(sheets_folder(moving).glob("*.xlsx")), None)
    looks = [one.look for one in matched]
    draft = path.with_name(f".{path.name}")
    try:
        with warnings.catch_warnings():
            # about drop-down lists and the like, which stay behind
            warnings.filterwarnings("ignore", category=UserWarning, module="openpyxl")
            book = _whole(source)
            if book is not None:
                _mark_whole(book, looks, wrong, draft, step)
            else:
                _write_anew(theirs, looks, wrong, draft, step)
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)


def _whole(source: Path | None) -> Any:
    """The workbook with all that is in it; None for a table, a very large one, and one that is only readable."""
    if source is None:
        return None
    with zipfile.ZipFile(source) as packed:
        if sum(one.file_size for one in packed.infolist() if "/worksheets/" in one.filename) > _MOST_WHOLE:
            return None
    try:
        return openpyxl.load_workbook(source)
    except Exception:  # its cells were read; what else is in it may be anything
        _log.warning("A workbook is written anew, because it cannot be kept whole.", exc_info=True)
        return None


def _sentence(seen: Look, wrong: list[tuple[int | None, str, str]]) -> str:
    """What to change in a row, each with the name of its column."""
    titles: dict[int | None, str] = {one.place: one.title for one in seen.columns}
    return "\n".join(f"{titles.get(place, column)}: {message}" for place, column, message in wrong)


def _note(message: str) -> Comment:
    note = Comment(message, WHAT_TO_CHANGE)
    note.width, note.height = 320, 40 + 20 * (len(message) // 40)
    return note


def _mark_whole(book: Any, looks: list[Look], wrong: Wrong, path: Path, step: Callable[[], None]) -> None:
    notes = 0
    for index, seen in enumerate(looks):
        sheet = book[seen.title] if seen.title in book.sheetnames else _titled(book, seen.title)
        step()
        _clear_marks(sheet)
        if index not in wrong:
            continue
        column = _column_of_ours(sheet, seen)
        sheet.cell(seen.header_row, column, WHAT_TO_CHANGE)
        for row, cells in sorted(wrong[index].items()):
            for place, _column, message in cells:
                if place is not None and row != seen.header_row:
                    cell = sheet.cell(row, place + 1)
                    cell.fill = _FILL
                    if not isinstance(cell, MergedCell) and notes < _MOST_NOTES:
                        cell.comment = _note(message)
                        notes += 1
            if row != seen.header_row:
                _put(sheet.cell(row, column), _sentence(seen, cells))
    book.save(path)


def _titled(book: Any, title: str) -> Any:
    """A sheet whose title has spaces around it."""
    return next(sheet for sheet in book.worksheets if sheet.title.strip() == title)


def _put(cell: Any, text: str) -> None:
    cell._value, cell.data_type, cell.quotePrefix = text, "s", True
    cell.fill = _FILL


def _clear_marks(sheet: Any) -> None:
    """Takes off what an earlier marking left: what was mended since must not look wrong."""
    there = [cell for cell in sheet._cells.values() if not isinstance(cell, MergedCell)]  # and none that is not there
    ours = {cell.column for cell in there if cell.row <= _TOP and is_ours_to_ignore(key_of(str(cell.value or "")))}
    for cell in there:
        if cell.comment is not None and cell.comment.author == WHAT_TO_CHANGE:
            cell.comment, cell.fill = None, PatternFill()
        if cell.column in ours:
            cell.value, cell.fill = None, PatternFill()


def _column_of_ours(sheet: Any, seen: Look) -> int:
    last = max((one.place + 1 for one in seen.columns if not is_ours_to_ignore(one.key)), default=0)
    far = sheet.max_column if sheet.max_column < _MOST_COLUMNS else last
    earlier = next((one.place + 1 for one in seen.columns if is_ours_to_ignore(one.key)), None)
    return earlier or max(far, last) + 1


def _write_anew(theirs: list[Theirs], looks: list[Look], wrong: Wrong, path: Path, step: Callable[[], None]) -> None:
    book = openpyxl.Workbook(write_only=True)
    notes = [0]
    for index, (one, seen) in enumerate(zip(theirs, looks, strict=True)):
        sheet = book.create_sheet(one.title[:31] or _("table"))
        width = max((column.place + 1 for column in seen.columns if not is_ours_to_ignore(column.key)), default=0)
        for number, cells in one.found.lines():
            if number % _CHECK_OFTEN == 0:
                step()
            line = list(cells[:width]) + [None] * (width - len(cells))
            if number == seen.header_row and index in wrong:
                line.append(WHAT_TO_CHANGE)
            elif number in wrong.get(index, {}):
                line = _marked(sheet, line, seen, wrong[index][number], notes)
            sheet.append([_shown(sheet, cell) for cell in line])
        sheet.close()
    book.save(path)


def _marked(
    sheet: Any, cells: list[Any], seen: Look, wrong: Sequence[tuple[int | None, str, str]], notes: list[int]
) -> list[Any]:
    line: list[Any] = [*cells, written(sheet, _sentence(seen, list(wrong)))]
    for place, _column, message in wrong:
        if place is not None and place < len(cells):
            cell = _shown(sheet, line[place])
            cell = cell if isinstance(cell, BookCell) else WriteOnlyCell(sheet, cell)
            cell.fill = _FILL
            if notes[0] < _MOST_NOTES:
                cell.comment = _note(message)
                notes[0] += 1
            line[place] = cell
    return line


def _shown(sheet: Any, cell: Cell | Any) -> Any:
    if isinstance(cell, Broken):
        return cell.message
    return written(sheet, cell)
