"""The sheet `reading_limits`: the shop's own limits of readings, of a kind of tool or of one."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Kind, ReadingLimit, Tool, Worse
from tooling.models.reading_keys import key_of
from tooling.selectors.reading_limits import limits
from tooling.services.limit_rules import LONGEST, wrong_with
from tooling.services.sheets import cells, tools
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note

_NAME = "reading_limits"


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {_key(row): row for row in _give()}
    known = tools.taken(load)
    met: dict[Any, int] = {}
    taken = []
    for row in rows:
        says = full(SHEET, row)
        _check_tool(row, says, known)
        for column, sentence in wrong_with(row.values).items():
            row.wrong.setdefault(column, sentence)
        if not row.wrong and met.setdefault(_key(says), row.number) != row.number:
            text = _("The limit of this stands in row %(row)s already.")
            row.wrong["quantity"] = text % {"row": load.row_said(_NAME, met[_key(says)])}
        if not row.wrong and _key(says) not in there:
            taken.append(says)
        elif not row.wrong and (differs := already_there(SHEET, says["quantity"], there[_key(says)], says, load)):
            row.wrong["quantity"] = differs
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check_tool(row: Row, says: dict[str, Any], known: tools.Taken) -> None:
    """Its code as it is now; a limit of one tool names its kind."""
    if not says["tool"]:
        return
    tool = known.find(says["tool"])
    if tool is None:
        row.wrong.setdefault("tool", no_such(_("tool"), says["tool"]))
        return
    says["tool"] = tool.code
    if tool.kind and says["kind"] and tool.kind != says["kind"]:
        row.wrong.setdefault("kind", _("%(tool)s is of another kind.") % {"tool": tool.code})


def _key(says: dict[str, Any]) -> tuple[str, ...]:
    """What makes two rows the same: what they are a limit of, and for which tools."""
    return (says["kind"], says["tool"] or "", *key_of(says["quantity"], says["unit"], says["geometry"]))


def _write(load: Load) -> int:
    taken = load.kept.pop(_NAME, [])
    named = {tool.code: tool for tool in Tool.objects.filter(code__in={says["tool"] for says in taken if says["tool"]})}
    rows = [ReadingLimit(**{**says, "tool": named[says["tool"]] if says["tool"] else None}) for says in taken]
    ReadingLimit.objects.bulk_create(rows, batch_size=100)
    return len(rows)


def _give() -> Iterator[dict[str, Any]]:
    for one in limits():
        says = {column.name: getattr(one, column.name) for column in _COLUMNS}
        yield {**says, "tool": one.tool.code if one.tool is not None else None}


_COLUMNS = (
    Column("kind", cells.word(*Kind.values, mold_insert=Kind.INSERT.value), needed=True),
    Column("tool", cells.REFERENCE),
    Column("quantity", cells.name(LONGEST["quantity"]), needed=True),
    Column("unit", cells.name(LONGEST["unit"]), needed=True),
    Column("geometry", cells.name(LONGEST["geometry"]), empty=""),
    Column("limit", cells.number(), needed=True),
    Column("worse", cells.word(*Worse.values), needed=True),
    Column("note", cells.name(LONGEST["note"]), empty=""),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
