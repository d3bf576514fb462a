"""Workbooks and folders of tables for tests, written from rows of plain values."""

import csv
import json
from datetime import UTC, datetime
from io import StringIO
from pathlib import Path
from typing import Any

import openpyxl
from django.core.management import CommandError, call_command

Rows = list[dict[str, Any]]
NEEDED = {
    "release_systems": ("code", "name", "family"),
    "places": ("code", "name"),
    "parts": ("number", "name"),
    "tools": ("code", "kind", "name"),
    "history": ("tool", "at", "entry"),
    "tool_sets": ("part", "role"),
    "wanted": ("part", "at"),
    "making_steps": ("kind", "name"),
    "checklists": ("kind",),
    "plugs": ("tool",),
    "milling_passes": ("tool", "kind"),
    "cutters": ("code", "kind"),
    "masks": ("tool",),
    "mask_features": ("mask", "kind", "method"),
}
LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)


def header(sheet: str, rows: Rows) -> list[str]:
    """The needed columns, then all others that a row names."""
    return list(dict.fromkeys([*NEEDED.get(sheet, ()), *(name for row in rows for name in row)]))


def write_csv(folder: Path, sheets: dict[str, Rows], separator: str = ",", encoding: str = "utf-8") -> Path:
    folder.mkdir(exist_ok=True)
    for sheet, rows in sheets.items():
        names = header(sheet, rows)
        with (folder / f"{sheet}.csv").open("w", encoding=encoding, newline="") as text:
            table = csv.writer(text, delimiter=separator)
            table.writerow(names)
            table.writerows([["" if row.get(name) is None else row[name] for name in names] for row in rows])
    return folder


def write_xlsx(path: Path, sheets: dict[str, Rows]) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for sheet, rows in sheets.items():
        page = book.create_sheet(sheet)
        names = header(sheet, rows)
        page.append(names)
        for number, row in enumerate(rows, 2):
            for place, name in enumerate(names, 1):
                if row.get(name) is not None:
                    page.cell(number, place, row[name])
    book.save(path)
    return path


def taken(path: Path, *options: str) -> dict[str, Any]:
    """The JSON document of an import, whether or not it was taken."""
    said = StringIO()
    try:
        call_command("import_shop", str(path), "--format", "json", *options, stdout=said)
    except CommandError:
        assert json.loads(said.getvalue())["errors"]
    else:
        assert not json.loads(said.getvalue())["errors"]
    return json.loads(said.getvalue())


def cells_at_fault(path: Path) -> list[tuple[str, int, str]]:
    """Sheet, row and column of everything that an import finds wrong."""
    return [(one["sheet"], one["row"], one["column"]) for one in taken(path)["errors"]]


def content(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    """All cells of an exported workbook."""
    book = openpyxl.load_workbook(path)
    return {page.title: list(page.iter_rows(values_only=True)) for page in book.worksheets}
