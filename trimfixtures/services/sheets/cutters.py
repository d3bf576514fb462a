"""The sheet `cutters`: the small library of cutters and guide bushings."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from operator import attrgetter
from typing import Any

from django.utils.translation import gettext as _

from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.sizes import size
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note
from trimfixtures.models import Cutter, CutterKind, CutterState
from trimfixtures.services.cutter_rules import wrong_with

_NAME = "cutters"


@dataclass(frozen=True, slots=True)
class Named:
    """A cutter or bushing that a cell may name. `is_sure` is false where its row is wrong: its size is not known."""

    code: str
    kind: str = ""
    nominal_mm: Decimal | None = None
    is_sure: bool = True


@dataclass
class Library:
    """Those of the shop and of the sheet, by code."""

    named: dict[str, Named] = field(default_factory=dict)
    rows: list[dict[str, Any]] = field(default_factory=list)
    is_unread: bool = False

    def find(self, code: str) -> Named | None:
        """The one of that code; one of which nothing is known where the sheet could not be read."""
        return self.named.get(code) or (Named(code, is_sure=False) if self.is_unread else None)


def library(load: Load) -> Library:
    """The cutters and bushings that a cell may name."""
    result: Library = load.kept[_NAME]
    result.is_unread = _NAME in load.unread
    return result


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {row["code"]: row for row in _give()}
    result = Library({code: Named(code, row["kind"], row["nominal_mm"]) for code, row in there.items()})
    met: dict[str, int] = {}
    for row in rows:
        code, says = row.typed("code"), full(SHEET, row)
        for column, sentence in wrong_with(says).items():
            row.wrong.setdefault(column, sentence)
        if code and met.setdefault(code, row.number) != row.number:
            message = _("%(code)s stands in row %(row)s already.")
            row.wrong.setdefault("code", message % {"code": code, "row": load.row_said(_NAME, met[code])})
        elif code:
            if not row.wrong and code in there:
                if differs := already_there(SHEET, code, there[code], says, load):
                    row.wrong["code"] = differs
            elif not row.wrong:
                result.rows.append(says)
            result.named[code] = _named(code, row)
        note(_NAME, row, load.report)
    load.kept[_NAME] = result


def _named(code: str, row: Row) -> Named:
    is_sure = not row.wrong.keys() & {"code", "kind", "nominal_mm"}
    return Named(code, row.values.get("kind", "") if is_sure else "", row.values.get("nominal_mm"), is_sure)


def _write(load: Load) -> int:
    cutters = [Cutter(**{**row, as_typed.NAME: as_typed.still(row)}) for row in library(load).rows]
    Cutter.objects.bulk_create(cutters, batch_size=100)
    return len(cutters)


def _give() -> Iterator[dict[str, Any]]:
    # sorted here: two databases have two orders of letters
    for cutter in sorted(Cutter.objects.all(), key=attrgetter("code")):
        yield {column.name: getattr(cutter, column.name) for column in _COLUMNS}


_COLUMNS = (
    Column("code", cells.CODE, needed=True),
    Column("kind", cells.word(*CutterKind.values, guide_bushing=CutterKind.BUSHING.value), needed=True),
    size("nominal_mm"),
    size("measured_mm"),
    Column("state", cells.word(*CutterState.values), empty=CutterState.HERE.value),
    Column("fresh_on", cells.DATE),
    Column("look_after_m", cells.number()),
    Column("note", empty=""),
    as_typed.column(("nominal_mm", "measured_mm")),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
