"""Rows of tools that have a history already: harmless where they say what is written there, else refused.

So the same workbook does no harm the second time, and a sheet never adds to a history that people go on with.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC
from functools import cache
from itertools import groupby
from operator import itemgetter
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from shared.pieces import in_pieces
from tooling.models import Entry, Tool
from tooling.models.people import name_key
from tooling.services.drafts import draft
from tooling.services.sheets import wipes
from tooling.services.sheets.cells import Frame, folded
from tooling.services.sheets.history_rows import RECORDED
from tooling.services.sheets.report import Report
from tooling.services.sheets.table import Column, Row
from tooling.services.sheets.tools import Taken

# Compared where the row says it
_BESIDE = (*RECORDED, wipes.AT, wipes.BY)
_ANY = Frame(UTC)
_TOOLS_AT_ONCE = 500
Give = Callable[[QuerySet[Entry]], Iterator[Mapping[str, Any]]]


@dataclass(frozen=True, slots=True)
class _Said:
    """What a row says, cell by cell; what only an export writes stands apart."""

    row: int
    cells: dict[str, Any]
    recorded: dict[str, Any]

    def is_of(self, stored: "_Said") -> bool:
        """Whether that is what is stored. Who recorded it when is compared where the row says it."""
        return self.cells == stored.cells and self.recorded.items() <= stored.recorded.items()


class Again:
    """The rows that name a tool with a history, kept until all of them are read."""

    def __init__(self, columns: Iterable[Column], tools: Taken, *, is_by_command: bool) -> None:
        """Knows the columns of the sheet, and the tools that a cell may name."""
        self._is_by_command = is_by_command
        self._columns = tuple(columns)
        self._tools = tools
        self._rows: dict[int, list[_Said]] = {}
        self._wrong: set[int] = set()

    def takes(self, row: Row) -> bool:
        """Whether the row is of such a tool; it is kept then, and told from what is stored by `settle`."""
        tool = self._tools.find(row.values.get("tool", ""))
        if tool is None or not tool.has_history or tool.pk is None:
            return False
        self._rows.setdefault(tool.pk, []).append(self._of_row(row))
        if row.wrong:
            self._wrong.add(tool.pk)
        return True

    def settle(self, sheet: str, give: Give, report: Report) -> None:
        """Refuses every row of a tool whose rows are not, all of them and in their order, its stored history."""
        for tools in in_pieces(sorted(self._rows), _TOOLS_AT_ONCE):
            entries = Entry.objects.filter(tool__in=tools).order_by("tool_id", "id")
            keys = dict(Tool.objects.filter(pk__in=tools).values_list("code", "pk"))
            for code, rows in groupby(give(entries), key=itemgetter("tool")):
                if keys[code] in self._wrong or not self._are_same(self._rows[keys[code]], rows):
                    self._refuse(sheet, code, self._rows[keys[code]], report)

    def _are_same(self, said: list[_Said], stored: Iterable[Mapping[str, Any]]) -> bool:
        ordered = sorted(said, key=lambda one: one.recorded.get("number", 0))  # file order where there are no numbers
        written = [self._said(0, row) for row in stored]
        return len(ordered) == len(written) and all(map(_Said.is_of, ordered, written))

    def _refuse(self, sheet: str, code: str, rows: Iterable[_Said], report: Report) -> None:
        message = _(
            "%(tool)s has a history already, and it is not the same as these rows. A sheet opens a history; "
            "later entries are written on the page of the tool."
        )
        if self._is_by_command:
            message += " " + _("Or with manage.py log_entry.")
        for one in rows:
            report.wrong(sheet, one.row, "tool", message % {"tool": code})

    def _of_row(self, row: Row) -> _Said:
        """The row as it would be stored."""
        values = dict(row.values)
        for column in ("tool", "mold", "surface"):
            found = self._tools.find(values.get(column, ""))
            if found is not None:
                values[column] = found.code
        kind = values.get("entry", "")
        if values.get("area") == "whole":
            del values["area"]
        if kind == "coat" and "reason" in values:
            values["reason"] = folded(values["reason"])
        values.setdefault("count", _usual_count(kind))
        return self._said(row.number, values)

    def _said(self, number: int, values: Mapping[str, Any]) -> _Said:
        cells = {one.name: one.cell(values.get(one.name), _ANY) for one in self._columns}
        cells |= {name: name_key(cells[name]) for name in ("by", "recorded_by", wipes.BY) if cells[name]}
        filled = {name: cell for name, cell in cells.items() if cell is not None}
        recorded = {name: filled.pop(name) for name in _BESIDE if name in filled}
        return _Said(number, filled, recorded)


@cache
def _usual_count(kind: str) -> int | None:
    """The count of an entry that names none."""
    return draft(Tool(), kind, {}).count
