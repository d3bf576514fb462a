"""What an import read, wrote and could not take."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from django.utils.translation import gettext as _


@dataclass(frozen=True, slots=True)
class Problem:
    """A row that cannot be taken: the cell to change first, and all that is wrong with it. Or a remark."""

    sheet: str
    row: int
    column: str
    message: str

    def __str__(self) -> str:
        where = [self.sheet, _("row %(row)d") % {"row": self.row}, self.column]
        return f"{', '.join(filter(None, where))}: {self.message}"


class Report:
    """What was read and written, by sheet, each wrong row once, and remarks on rows that are right."""

    def __init__(self) -> None:
        """Nothing yet."""
        self.read: dict[str, int] = {}
        self.new: dict[str, int] = {}  # rows that are right and not in the shop yet
        self.written: dict[str, int] = {}
        self.notes: list[Problem] = []
        self._wrong: dict[str, dict[int, dict[str, str]]] = {}
        self._columns: dict[str, list[str]] = {}

    def order(self, sheet: str, columns: Iterable[str]) -> None:
        """The columns of a sheet in their order: a row is listed under the first of its wrong ones."""
        self._columns[sheet] = list(columns)

    def wrong(self, sheet: str, row: int, column: str, message: str) -> None:
        """Notes what is wrong with a cell; what was said of it first stands."""
        self._wrong.setdefault(sheet, {}).setdefault(row, {}).setdefault(column, message)

    def remark(self, sheet: str, row: int, column: str, message: str) -> None:
        """Notes what is right, and yet might not be what was meant."""
        self.notes.append(Problem(sheet, row, column, message))

    @property
    def is_clean(self) -> bool:
        """Whether all that was read can be taken."""
        return not self._wrong

    def problems(self) -> Iterator[Problem]:
        """Every wrong column name of a header, and every wrong row once, in the order of sheets and rows."""
        for sheet, rows in self._wrong.items():
            for row in sorted(rows):
                if row == 1:
                    yield from (Problem(sheet, 1, column, message) for column, message in rows[1].items())
                else:
                    yield self._problem(sheet, row, rows[row])

    def wrong_cells(self) -> Iterator[Problem]:
        """Every wrong cell, in the order of sheets and rows."""
        for sheet, rows in self._wrong.items():
            for row in sorted(rows):
                yield from (Problem(sheet, row, column, message) for column, message in rows[row].items())

    def _problem(self, sheet: str, row: int, wrong: Mapping[str, str]) -> Problem:
        order = self._columns.get(sheet, [])
        first, *others = sorted(wrong, key=lambda column: order.index(column) if column in order else len(order))
        message = wrong[first]
        for column in others:
            message += " " + _("Also %(column)s: %(message)s") % {"column": column, "message": wrong[column]}
        return Problem(sheet, row, first, message)

    def as_json(self) -> dict[str, Any]:
        """The document that the command prints."""
        errors, notes = [asdict(one) for one in self.problems()], [asdict(one) for one in self.notes]
        return {"read": self.read, "written": self.written, "errors": errors, "notes": notes}
