"""Wrong cells by what is said of them: what is settled once for all rows apart from what needs somebody's hand."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.core.exceptions import ValidationError

from tooling.models import check_code, propose_code
from tooling.services.moving_in.called import column_called
from tooling.services.moving_in.joined import Joined
from tooling.services.moving_in.matching import Match
from tooling.services.moving_in.ours import two_days
from tooling.services.moving_in.tables import Theirs, Wrong
from tooling.services.moving_in.targets import TOOLS
from tooling.services.sheets.cells import Broken, Cell, is_blank, shown

_GROUPS = 200
_ROWS_LISTED = 12


@dataclass
class Groups:
    """By sheet, column and sentence: in which rows. `hand_rows`: how many rows nothing above the list settles."""

    found: dict[tuple[str, str, str], list[int]] = field(default_factory=dict)
    hand_rows: int = 0

    def add(self, sheet: str, row: int, problems: list[tuple[str, str]]) -> None:
        """One row, with the titles of its columns and what is wrong there."""
        for title, message in problems:
            key = (sheet, title, message)
            if key in self.found or len(self.found) < _GROUPS:
                self.found.setdefault(key, []).append(row)
        self.hand_rows += bool(problems)

    def told(self) -> list[dict[str, Any]]:
        """For the page, those of most rows first."""
        in_order = sorted(self.found.items(), key=lambda one: (-len(one[1]), one[1][0]))
        return [
            {"sheet": sheet, "column": title, "message": message, "count": len(rows), "rows": rows[:_ROWS_LISTED],
             "is_more": len(rows) > _ROWS_LISTED}
            for (sheet, title, message), rows in in_order
        ]  # fmt: skip


def grouped(joined: Joined, matched: list[Match], theirs: list[Theirs], wrong: Wrong) -> Groups:
    """All wrong rows of an upload."""
    groups = Groups()
    for index in sorted(wrong):
        titles: dict[int | None, str] = {one.place: one.title for one in matched[index].look.columns}
        for row, cells in _with_cells(theirs[index], wrong[index]):
            if (index, row) in joined.lines:
                continue
            problems = [
                (titles.get(place) or column_called(column), message)
                for place, column, message in wrong[index][row]
                if not _is_settled(joined, matched[index], _target(joined, index, place, column), cells, place, message)
            ]
            groups.add(matched[index].look.title, row, problems)
    return groups


def _with_cells(one: Theirs, rows: dict[int, Any]) -> Iterator[tuple[int, Any]]:
    left = set(rows)
    for number, cells in one.found.lines():
        if number in left:
            left.discard(number)
            yield number, cells
        if not left:
            return
    for row in sorted(left):
        yield row, ()


def _target(joined: Joined, index: int, place: int | None, column: str) -> str:
    return next((target.name for at, target in joined.placed[index] if at == place), column)


def _is_settled(joined: Joined, one: Match, target: str, cells: Any, place: int | None, message: str) -> bool:
    """Whether a word on the page above settles it for every such cell."""
    cell: Cell = cells[place] if place is not None and place < len(cells) else None
    if is_blank(cell) or isinstance(cell, Broken):
        return False
    text = " ".join(shown(cell).split())
    if target == "code":
        return not joined.takes_proposed and _is_put_right(text)
    if (one.sheet, target) == (TOOLS, "place"):
        return joined.places.is_unsettled(text)
    return message == two_days(text) or text in joined.doubts.words.get((one.sheet, target), {})


def _is_put_right(code: str) -> bool:
    try:
        check_code(code)
    except ValidationError:
        return bool(propose_code(code))
    return False
