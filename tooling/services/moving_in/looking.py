"""A first look at a sheet of the shop's: where its columns are named, and what stands in them."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from tooling.services.moving_in.tables import Theirs, key_of
from tooling.services.sheets.cells import Cell, is_blank, shown
from tooling.services.sheets.escapes import storable
from tooling.services.sheets.table import letters

WHAT_TO_CHANGE = "what to change"  # the column of the workbook to be mended
MOST_COLUMNS = 150  # of a sheet, to be matched by hand
_TOP = 15  # lines in which names of columns are looked for
_SEEN = 200  # lines from which samples are taken
_SAMPLES = 3
_LONGEST_SAMPLE = 40


@dataclass(frozen=True, slots=True)
class TheirColumn:
    """A column of theirs: its place from 0, its key, its name as it stands there, and what its first cells say."""

    place: int
    key: str
    title: str
    samples: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Look:
    """A sheet of theirs. `header_row` is the line in which its columns are named.

    An empty sheet has no columns, and one that `is_wide`, which is no list of tools, is left alone like it.
    """

    title: str
    key: str
    header_row: int
    columns: tuple[TheirColumn, ...]
    is_wide: bool = False


def look(one: Theirs, header_row: int | None = None) -> Look:
    """Looks at the first lines of a sheet."""
    lines = list(islice(one.found.lines(), _SEEN))
    row = header_row or _likely_header(lines)
    below = [cells for number, cells in lines if number > row]
    header = next((cells for number, cells in lines if number == row), ())
    width = max((len(cells) for cells in (header, *below)), default=0)
    if sum(1 for cell in header if not is_blank(cell)) > MOST_COLUMNS:
        return Look(one.title, one.key, row, (), is_wide=True)
    columns = []
    for place, key, title in named(header, min(width, MOST_COLUMNS)):
        samples = _samples(below, place)
        if title or samples:
            columns.append(TheirColumn(place, key, title or letters(place), samples))
    return Look(one.title, one.key, row, tuple(columns))


def named(header: Sequence[Cell], width: int) -> list[tuple[int, str, str]]:
    """Place, key and name of each column. Without a name its letter is its key; of two alike the later has a number."""
    seen: dict[str, int] = {}
    result = []
    for place in range(max(width, len(header))):
        cell = header[place] if place < len(header) else None
        title = "" if is_blank(cell) else storable(" ".join(_as_text(cell).split()))
        key = key_of(title) or f"column {letters(place)}"
        seen[key] = seen.get(key, 0) + 1
        result.append((place, key if seen[key] == 1 else f"{key} ({seen[key]})", title))
    return result


def is_ours_to_ignore(key: str) -> bool:
    """Whether this is the column that we wrote beside theirs."""
    return key == key_of(WHAT_TO_CHANGE)


def _likely_header(lines: list[tuple[int, Sequence[Cell]]]) -> int:
    """The first of the upper lines in which nearly as many words stand as in any of them."""
    words = [(number, sum(1 for cell in cells if _is_word(cell))) for number, cells in lines[:_TOP]]
    most = max((count for _number, count in words), default=0)
    return next((number for number, count in words if count and count >= 0.75 * most), 1)


def _is_word(cell: Cell) -> bool:
    return isinstance(cell, str) and any(sign.isalpha() for sign in cell)


def _samples(lines: list[Sequence[Cell]], place: int) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for cells in lines:
        if place < len(cells) and not is_blank(cells[place]) and len(found) < _SAMPLES:
            found[" ".join(_as_text(cells[place]).split())[:_LONGEST_SAMPLE]] = None
    return tuple(found)


def _as_text(cell: Cell) -> str:
    message = getattr(cell, "message", None)
    return message if message is not None else shown(cell)
