"""The sheet `plugs`: how each plug sat on the machine, beside what every tool is."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import PlugRecord, Tool
from tooling.services.plug_rules import is_plug, no_plug, wrong_with_record
from tooling.services.sheets import cells, tools
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note

_NAME = "plugs"


def check_tool(row: Row, load: Load) -> None:
    """The plug that a row is about, under its code of today."""
    code = row.values.get("tool", "")
    tool = tools.taken(load).find(code) if code else None
    if code and tool is None:
        row.wrong.setdefault("tool", no_such(_("plug"), code))
    elif tool is not None and not is_plug(tool.kind):
        row.wrong.setdefault("tool", no_plug(tool.code, tool.kind))
    elif tool is not None:
        row.values["tool"] = tool.code


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {row["tool"]: row for row in _give()}
    met: dict[str, int] = {}
    taken = []
    for row in rows:
        check_tool(row, load)
        says = full(SHEET, row)
        for column, sentence in wrong_with_record(says).items():
            row.wrong.setdefault(column, sentence)
        tool = says["tool"]
        if tool and "tool" not in row.wrong:
            if met.setdefault(tool, row.number) != row.number:
                message = _("%(code)s stands in row %(row)s already.")
                row.wrong["tool"] = message % {"code": tool, "row": load.row_said(_NAME, met[tool])}
            elif not row.wrong and tool in there:
                if differs := already_there(SHEET, tool, there[tool], says, load):
                    row.wrong["tool"] = differs
            elif not row.wrong:
                taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _write(load: Load) -> int:
    rows: list[dict[str, Any]] = load.kept[_NAME]
    keys = dict(Tool.objects.values_list("code", "pk")) if rows else {}
    records = [PlugRecord(tool_id=keys[row["tool"]], **{name: row[name] for name in _PLAIN}) for row in rows]
    PlugRecord.objects.bulk_create(records, batch_size=50)
    return len(records)


def _give() -> Iterator[dict[str, Any]]:
    # sorted here: two databases have two orders of letters
    for record in sorted(PlugRecord.objects.select_related("tool"), key=lambda one: one.tool.code):
        yield {**{name: getattr(record, name) for name in _PLAIN}, "tool": record.tool.code}


_COLUMNS = (
    Column("tool", cells.REFERENCE, needed=True),
    Column("base", cells.name(200), empty=""),
    Column("stock", cells.name(200), empty=""),
    Column("machine", cells.name(200), empty=""),
    Column("tilt_deg", cells.number()),
    Column("tilt_about", cells.name(200), empty=""),
    Column("zero", cells.name(200), empty=""),
    Column("note", empty=""),
)
_PLAIN = tuple(column.name for column in _COLUMNS if column.name != "tool")
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
