"""The sheet `milling_passes`: the passes of plugs, one a row, in the order in which they are cut."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import MillingPass, Pass, Tool
from tooling.services.plug_rules import LENGTHS, wrong_with_pass
from tooling.services.sheets import as_typed, cells, plugs
from tooling.services.sheets.sizes import size
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note

_NAME = "milling_passes"
_ANY = cells.Frame(UTC)


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = {(row["tool"], row["order"]): row for row in _give()} if read else {}
    left = Counter(_key(row) for row in there.values())
    met: dict[tuple[str, int], int] = {}
    count = Counter[str]()
    taken: list[dict[str, Any]] = []
    for row in read:
        plugs.check_tool(row, load)
        for column, sentence in wrong_with_pass(row.values).items():
            row.wrong.setdefault(column, sentence)
        _number(row, count, met, load)
        says = full(SHEET, row)
        if not row.wrong and left[_key(says)]:
            left[_key(says)] -= 1
        elif not row.wrong and (other := there.get((says["tool"], says["order"]))) is not None:
            called = f"{other['tool']} {other['order']}"
            row.wrong["order"] = already_there(SHEET, called, other, says, load)
        elif not row.wrong:
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _key(row: Mapping[str, Any]) -> tuple[Any, ...]:
    """What a row says, as it stands in its cells."""
    return tuple(column.cell(row[column.name], _ANY) for column in _COLUMNS if not column.beside)


def _number(row: Row, count: Counter[str], met: dict[tuple[str, int], int], load: Load) -> None:
    """A row without a number has the place at which it stands among those of its plug. No two have one number."""
    tool = row.values.get("tool")
    if tool is None or row.wrong.keys() & {"tool", "order"}:
        return
    count[tool] += 1
    number = row.values.setdefault("order", count[tool])
    first = met.setdefault((tool, number), row.number)
    if first != row.number:
        text = _("Number %(number)s of %(tool)s stands in row %(row)s already. Each pass has a number of its own.")
        row.wrong["order"] = text % {"number": number, "tool": tool, "row": load.row_said(_NAME, first)}


def _write(load: Load) -> int:
    rows: list[dict[str, Any]] = load.kept[_NAME]
    keys = dict(Tool.objects.values_list("code", "pk")) if rows else {}
    passes = [
        MillingPass(tool_id=keys[row["tool"]], **{name: row[name] for name in _PLAIN}, as_typed=as_typed.still(row))
        for row in rows
    ]
    MillingPass.objects.bulk_create(passes, batch_size=30)
    return len(passes)


def _give() -> Iterator[dict[str, Any]]:
    passes = MillingPass.objects.select_related("tool")
    # sorted here: two databases have two orders of letters
    for one in sorted(passes, key=lambda one: (one.tool.code, one.order, one.pk)):
        yield {"tool": one.tool.code, **{name: getattr(one, name) for name in (*_PLAIN, as_typed.NAME)}}


_SAID = (
    Column("tool", cells.REFERENCE, needed=True),
    Column("order", cells.whole(1)),
    Column("kind", cells.word(*Pass.values), needed=True),
    Column("name", cells.name(80), empty=""),
    Column("cutter", cells.name(80), empty=""),
    *map(size, LENGTHS[:3]),
    Column("feed_mm_min", cells.number()),
    Column("slope_deg", cells.number()),
    *map(size, LENGTHS[3:5]),
    Column("both_ways", cells.YES_NO, empty=True),
    *map(size, LENGTHS[5:]),
    Column("wall_angle_deg", cells.number()),
    Column("minutes_taken", cells.number()),
    Column("note", empty=""),
)
_COLUMNS = (*_SAID, as_typed.column((*LENGTHS, "feed_mm_min")))
_PLAIN = tuple(column.name for column in _SAID if column.name != "tool")
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
