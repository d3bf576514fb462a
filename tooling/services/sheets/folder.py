"""A folder of .csv: one file a sheet, in UTF-8, with commas or semicolons."""

import csv
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models.fields import plain
from tooling.services.sheets.cells import Cell
from tooling.services.sheets.escapes import guard, unguard
from tooling.services.sheets.reading import Found, Lines
from tooling.services.sheets.writing import Put, Target


def tables(path: Path) -> list[Found]:
    """The tables of a folder, in the order of their names. Other files in it are left alone."""
    files = sorted(one for one in path.iterdir() if one.suffix.lower() == ".csv" and not one.name.startswith("."))
    if not files:
        raise Refused(_("There is no .csv in the folder %(path)s.") % {"path": path})
    return [_found(one) for one in files]


def _found(file: Path) -> Found:
    separator = _separator(file)
    return Found(file.stem, lambda: _lines(file, separator), decimal_comma=separator == ";")


def _separator(file: Path) -> str:
    """What stands between the names of the columns."""
    with _reading(file), file.open(encoding="utf-8-sig", newline="") as text:
        first = next(csv.reader(text, delimiter="\n"), [""])
    header = "".join(first)
    return ";" if header.count(";") > header.count(",") else ","


def _lines(file: Path, separator: str) -> Lines:
    with _reading(file), file.open(encoding="utf-8-sig", newline="") as text:
        for number, cells in enumerate(csv.reader(text, delimiter=separator, strict=True), 1):
            yield number, [_cell(cell) for cell in cells]


def _cell(text: str) -> Cell:
    return unguard(text) or None


@contextmanager
def _reading(file: Path) -> Iterator[None]:
    try:
        yield
    except UnicodeDecodeError as bad:
        message = _("%(file)s is not in UTF-8. Save it as “CSV UTF-8”.")
        raise Refused(message % {"file": file.name}) from bad
    except csv.Error as bad:
        raise Refused(_("%(file)s is no table: %(why)s.") % {"file": file.name, "why": bad}) from bad
    except OSError as bad:
        raise Refused(_("%(file)s cannot be read: %(why)s.") % {"file": file.name, "why": bad.strerror}) from bad


@contextmanager
def target(path: Path) -> Iterator[Target]:
    """A folder to write; its tables are put in place together when all are whole. Other files in it stay."""
    path.mkdir(exist_ok=True)
    parts: dict[Path, Path] = {}

    @contextmanager
    def sheet(name: str, header: Sequence[str]) -> Iterator[Put]:
        part = path / f".{name}.csv.part"
        parts[part] = path / f"{name}.csv"
        with part.open("w", encoding="utf-8", newline="") as text:
            rows = csv.writer(text)
            rows.writerow(header)
            yield lambda cells: rows.writerow([_text(cell) for cell in cells])

    try:
        yield sheet
        for part, table in parts.items():
            part.replace(table)
    finally:
        for part in parts:
            part.unlink(missing_ok=True)


def _text(cell: Any) -> str:
    if isinstance(cell, str):
        return guard(cell)
    if isinstance(cell, Decimal):
        return f"{plain(cell):f}"
    return "" if cell is None else str(cell)
