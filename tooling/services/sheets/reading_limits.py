"""The sheet `reading_limits`: the shop's own limits of readings, of a kind of tool or of one."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Kind, ReadingLimit, Tool, Worse
from tooling.models.reading_keys import key_of
from tooling.selectors.reading_limits import limits
from tooling.services.limit_rules import LONGEST, wrong_with
from tooling.services.sheets import cells, tools
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from tooling.services.sheets.who_when import not_ahead, people_named

_NAME = "reading_limits"
_PEOPLE = ("set_by", "ended_by")
Key = tuple[str, ...]
# A limit, and in which row of the sheet it stands; None: it is in the shop.
_Known = tuple[Mapping[str, Any], int | None]


def _take(rows: Iterable[Row], load: Load) -> None:
    known: dict[Key, list[_Known]] = {}
    for one in _give():
        known.setdefault(_key(one), []).append((one, None))
    tools_known = tools.taken(load)
    taken = []
    for row in rows:
        says = full(SHEET, row)
        _check_tool(row, says, tools_known)
        _check_times(row, load)
        for column, sentence in wrong_with(row.values).items():
            row.wrong.setdefault(column, sentence)
        if not row.wrong and _is_new(row, says, known.setdefault(_key(says), []), load):
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _is_new(row: Row, says: dict[str, Any], others: list[_Known], load: Load) -> bool:
    """Whether it is to be written; what is wrong with it is said."""
    same = next((one for one, number in others if number is None and _is_same(row, says, one)), None)
    if same is not None:
        if differs := already_there(
            SHEET, says["quantity"], same, {**says, **{name: same[name] for name in ("since", "until")}}, load
        ):
            row.wrong["quantity"] = differs
        return False
    for one, number in others:
        if _meet(says, one):
            text = _("Another limit of this holds in that time: say since when this one does.")
            if number is not None:
                text = _("The limit of this stands in row %(row)s already.")
                text %= {"row": load.row_said(_NAME, number)}
            row.wrong["quantity"] = text
            return False
    others.append((says, row.number))
    return True


def _is_same(row: Row, says: dict[str, Any], there: Mapping[str, Any]) -> bool:
    """Whether it is that limit of the shop: of the same time, or the one that holds where the row names no time."""
    if not {"since", "until"} & row.values.keys():
        return there["until"] is None
    return all(_BY_NAME[name].says_same(says[name], there[name]) for name in ("since", "until"))


def _meet(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether there is a moment at which both hold. No since: ever; no until: still."""
    return all(
        first["since"] is None or second["until"] is None or first["since"] < second["until"]
        for first, second in ((one, other), (other, one))
    ) and all(each["until"] is None or each["since"] != each["until"] for each in (one, other))


def _check_times(row: Row, load: Load) -> None:
    since, until = row.values.get("since"), row.values.get("until")
    not_ahead(row, load, "since", "until")
    if since is not None and until is not None and until < since:
        row.wrong.setdefault("until", _("It ends before it begins."))
    if row.values.get("ended_by") and until is None:
        row.wrong.setdefault("ended_by", _("Say as well until when it held: until."))


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


def _key(says: Mapping[str, Any]) -> Key:
    """What makes two rows of one thing: what they are a limit of, and for which tools."""
    return (says["kind"], says["tool"] or "", *key_of(says["quantity"], says["unit"], says["geometry"]))


def _write(load: Load) -> int:
    taken = load.kept.pop(_NAME, [])
    named = {tool.code: tool for tool in Tool.objects.filter(code__in={says["tool"] for says in taken if says["tool"]})}
    person = people_named(taken, *_PEOPLE)
    rows = []
    for says in taken:
        who = {f"{column}_id": person.get(says.pop(column)) for column in _PEOPLE}
        rows.append(ReadingLimit(**{**says, **who, "tool": named[says["tool"]] if says["tool"] else None}))
    ReadingLimit.objects.bulk_create(rows, batch_size=100)
    return len(rows)


def _give() -> Iterator[dict[str, Any]]:
    for one in limits():
        says = {column.name: getattr(one, column.name) for column in _COLUMNS}
        people = {name: getattr(one, name).name if getattr(one, name) else "" for name in _PEOPLE}
        yield {**says, **people, "tool": one.tool.code if one.tool is not None else None}


_COLUMNS = (
    Column("kind", cells.word(*Kind.values, mold_insert=Kind.INSERT.value), needed=True),
    Column("tool", cells.REFERENCE),
    Column("quantity", cells.name(LONGEST["quantity"]), needed=True),
    Column("unit", cells.name(LONGEST["unit"]), needed=True),
    Column("geometry", cells.name(LONGEST["geometry"]), empty=""),
    Column("limit", cells.number(), needed=True),
    Column("worse", cells.word(*Worse.values), needed=True),
    Column("note", cells.name(LONGEST["note"]), empty=""),
    Column("since", cells.INSTANT),
    Column("until", cells.INSTANT),
    Column("set_by", cells.name(80), empty="", beside=True),
    Column("ended_by", cells.name(80), empty="", beside=True),
)
_BY_NAME = {column.name: column for column in _COLUMNS}
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
