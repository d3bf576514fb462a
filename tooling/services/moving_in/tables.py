"""The shop's own sheets as they stand in what was uploaded: a workbook, or tables in whatever way they were saved."""

import csv
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import MovingIn
from tooling.services.moving_in.files import sheets_folder
from tooling.services.sheets.cells import folded
from tooling.services.sheets.escapes import storable, unguard
from tooling.services.sheets.reading import Found, Lines

_SEPARATORS = (";", "\t", ",", "|")
_SAYS_SEPARATOR = re.compile(r"sep=(.)\s*", re.IGNORECASE)
_MOST_COLUMNS = 1_000
_BOMS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_LONGEST_KEY = 200
# By sheet of theirs and row: place, column of ours and sentence of each wrong cell
Wrong = dict[int, dict[int, list[tuple[int | None, str, str]]]]


@dataclass(frozen=True)
class Theirs:
    """A sheet of the shop's: how it is called there, and by which key it is remembered."""

    found: Found
    key: str

    @property
    def title(self) -> str:
        """As the shop calls it."""
        return self.found.title.strip()


@contextmanager
def theirs(moving: MovingIn, *, only_top: bool = False) -> Iterator[list[Theirs]]:
    """The sheets of an upload; `only_top` is quicker, for a look at the first lines. Refused where it is unreadable."""
    files = sorted(sheets_folder(moving).glob("*")) if sheets_folder(moving).is_dir() else []
    if not files:
        raise Refused(_("The uploaded file is no longer there. Drop this upload and upload it again."))
    if files[0].suffix == ".xlsx":
        from tooling.services.sheets.workbook import opened  # openpyxl takes a fifth of a second to import

        with opened(files[0], looks_for_formulas=not only_top) as found:
            yield [Theirs(one, key_of(one.title)) for one in found]
    else:
        yield [Theirs(one, key_of(one.title)) for one in map(_table, files)]


def key_of(title: str) -> str:
    """By what a sheet or column is remembered."""
    return folded(storable(title))[:_LONGEST_KEY]


def _table(path: Path) -> Found:
    encoding = _encoding(path)
    separator, decimal_comma = _separator(path, encoding)
    return Found(path.stem, lambda: _lines(path, encoding, separator), decimal_comma)


def _encoding(path: Path) -> str:
    """UTF-8 or what a mark at its start says; else the one that spreadsheets of western Europe and America write."""
    with path.open("rb") as file:
        start = file.read(4)
    marked = [name for mark, name in _BOMS if start.startswith(mark)]
    for encoding in marked or ("utf-8", "cp1252"):
        try:
            with path.open(encoding=encoding) as text:
                while piece := text.read(1 << 20):
                    if "\0" in piece:
                        raise Refused(_("%(file)s is no table of text. Save it as “CSV UTF-8”.") % {"file": path.name})
        except UnicodeError:
            continue
        return encoding
    raise Refused(_("%(file)s is in no known way of writing letters. Save it as “CSV UTF-8”.") % {"file": path.name})


def _separator(path: Path, encoding: str) -> tuple[str, bool]:
    """What stands between cells, and whether 12,5 is a number there."""
    with path.open(encoding=encoding, newline="") as text:
        first = [line for _place, line in zip(range(20), text, strict=False)]
    if first and (said := _SAYS_SEPARATOR.fullmatch(first[0])):
        return said.group(1), said.group(1) != ","
    counts = {sign: sum(min(line.count(sign), 50) for line in first) for sign in _SEPARATORS}
    separator = max(_SEPARATORS, key=lambda sign: counts[sign])
    return (separator, separator != ",") if counts[separator] else (",", False)


def _lines(path: Path, encoding: str, separator: str) -> Lines:
    try:
        with path.open(encoding=encoding, newline="") as text:
            for number, line in enumerate(csv.reader(text, delimiter=separator), 1):
                if len(line) > _MOST_COLUMNS:
                    raise Refused(_("%(file)s has more columns than a spreadsheet.") % {"file": path.name})
                if number == 1 and _SAYS_SEPARATOR.fullmatch(separator.join(line)):
                    line = []
                yield number, [unguard(cell) or None for cell in line]
    except (UnicodeError, csv.Error) as bad:
        raise Refused(_("%(file)s is no table: %(why)s.") % {"file": path.name, "why": bad}) from bad
    except OSError as bad:
        raise Refused(_("%(file)s cannot be read: %(why)s.") % {"file": path.name, "why": bad.strerror}) from bad
