"""A workbook to fill in: every sheet with its columns and a filled example, and one of the words that it may say."""

from io import BytesIO
from typing import Any

import openpyxl
from django.utils.translation import gettext as _
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from tooling.services.moving_in.examples import examples_of, says_of
from tooling.services.sheets.registry import sheets
from tooling.services.sheets.table import Column, Sheet

NAME = "moving-in.xlsx"
_BOLD = Font(bold=True)
# What only an export writes is no part of a form.
_NOT_FILLED_IN = frozenset({"replaces", "voids", "recorded_at", "recorded_by", "wiped_at", "wiped_by"})
# Its rows name entries by the numbers that an export gives them, which a form has not.
_ONLY_EXPORTED = frozenset({"containment_marks"})


def to_fill_in() -> list[Sheet]:
    """The sheets of the form."""
    return [sheet for sheet in sheets() if sheet.name not in _ONLY_EXPORTED]


def template() -> bytes:
    """The workbook. It goes into an empty shop as it is."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for sheet in to_fill_in():
        _write(book.create_sheet(sheet.name), sheet)
    _write_words(book.create_sheet("words"))
    held = BytesIO()
    book.save(held)
    return held.getvalue()


def _columns(sheet: Sheet) -> list[Column]:
    left_out = _NOT_FILLED_IN | {"number"} if sheet.name == "history" else frozenset()
    return [column for column in sheet.columns if column.name not in left_out]


def _write(page: Any, sheet: Sheet) -> None:
    columns = _columns(sheet)
    page.append([column.name for column in columns])
    for row in examples_of(sheet.name):
        page.append([row.get(column.name) for column in columns])
    page.freeze_panes = "A2"
    for place, column in enumerate(columns, 1):
        page.cell(1, place).font = Font(bold=column.needed, italic=not column.needed)
        page.column_dimensions[get_column_letter(place)].width = max(12, len(column.name) + 3)


def _write_words(page: Any) -> None:
    """Which words may stand in which columns, and what each sheet is. It is left alone when the workbook comes in."""
    page.append([_("sheet"), _("column"), _("one of these words, or empty")])
    for sheet in to_fill_in():
        for column in _columns(sheet):
            if column.kind.words:
                page.append([sheet.name, column.name, ", ".join(column.kind.words)])
    page.append([])
    for sheet in to_fill_in():
        page.append([sheet.name, None, says_of(sheet.name)])
    page.append([])
    page.append(
        [_("Columns in bold are needed, the others may be empty or taken out. Lengths in mm, masses in kg, °C.")]
    )
    page.append([_("A code is 1 to 16 of the letters A to Z, digits, hyphen and full stop. Replace the example rows.")])
    page.append([_("Every number of the recipe is an example: take your own from your supplier’s data sheet.")])
    for place, width in enumerate((18, 18, 90), 1):
        page.cell(1, place).font = _BOLD
        page.column_dimensions[get_column_letter(place)].width = width
