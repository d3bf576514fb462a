"""The sheet `masks`: what a trim mask is, beside what every tool is."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Tool
from tooling.services.sheets import cells, tools
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from trimfixtures.models import Mask, Stage
from trimfixtures.services.mask_rules import is_trim_mask, no_trim_mask, wrong_with

_NAME = "masks"


@dataclass(frozen=True, slots=True)
class Said:
    """What a cut is judged by; nothing where the row is wrong, or not known."""

    stage: str = ""
    outline: str = ""


@dataclass
class Taken:
    """The trim masks that are described in the shop and in the sheet, by the code of their tool."""

    said: dict[str, Said] = field(default_factory=dict)
    rows: list[dict[str, Any]] = field(default_factory=list)


def said_of(tool: str, load: Load) -> Said:
    """What is said of a trim mask, for its cuts."""
    result: Taken = load.kept[_NAME]
    return result.said.get(tool) or Said()


def check_tool(row: Row, column: str, load: Load) -> None:
    """The trim mask that a cell names, under its code of today."""
    code = row.values.get(column, "")
    tool = tools.taken(load).find(code) if code else None
    if code and tool is None:
        row.wrong.setdefault(column, no_such(_("trim mask"), code))
    elif tool is not None and not is_trim_mask(tool.kind):
        row.wrong.setdefault(column, no_trim_mask(tool.code, tool.kind))
    elif tool is not None:
        row.values[column] = tool.code


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {row["tool"]: row for row in _give()}
    result = Taken({tool: Said(row["stage"], row["outline"]) for tool, row in there.items()})
    met: dict[str, int] = {}
    for row in rows:
        check_tool(row, "tool", load)
        says = full(SHEET, row)
        for column, sentence in wrong_with(says).items():
            row.wrong.setdefault(column, sentence)
        tool = says["tool"]
        if tool and "tool" not in row.wrong:
            _claim(row, says, result, there, met, load)
        note(_NAME, row, load.report)
    load.kept[_NAME] = result


def _claim(
    row: Row, says: dict[str, Any], result: Taken, there: dict[str, dict[str, Any]], met: dict[str, int], load: Load
) -> None:
    """Each trim mask is described once."""
    tool = says["tool"]
    if met.setdefault(tool, row.number) != row.number:
        message = _("%(code)s stands in row %(row)s already.")
        row.wrong["tool"] = message % {"code": tool, "row": load.row_said(_NAME, met[tool])}
        return
    if not row.wrong and tool in there:
        if differs := already_there(SHEET, tool, there[tool], says, load):
            row.wrong["tool"] = differs
    elif not row.wrong:
        result.rows.append(says)
    result.said[tool] = Said() if row.wrong else Said(says["stage"], says["outline"])


def _write(load: Load) -> int:
    result: Taken = load.kept[_NAME]
    keys = dict(Tool.objects.values_list("code", "pk")) if result.rows else {}
    masks = [
        Mask(tool_id=keys[row["tool"]], **{name: value for name, value in row.items() if name != "tool"})
        for row in result.rows
    ]
    Mask.objects.bulk_create(masks, batch_size=50)
    load.touched.update(mask.tool_id for mask in masks)  # their tags may say more now
    return len(masks)


def _give() -> Iterator[dict[str, Any]]:
    # sorted here: two databases have two orders of letters
    for mask in sorted(Mask.objects.select_related("tool"), key=lambda one: one.tool.code):
        yield {**{column.name: getattr(mask, column.name) for column in _COLUMNS}, "tool": mask.tool.code}


_COLUMNS = (
    Column("tool", cells.REFERENCE, needed=True),
    Column("stage", cells.word(*Stage.values), empty=""),
    Column("datum", cells.name(200), empty=""),
    Column("held_by", cells.name(200), empty=""),
    Column("support", cells.name(200), empty=""),
    Column("guiding", cells.name(200), empty=""),
    Column("seal_edge", cells.name(200), empty=""),
    Column("check_every", cells.whole(1)),
    Column("outline", empty=""),
    Column("points", empty=""),
    Column("note", empty=""),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
