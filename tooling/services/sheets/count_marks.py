"""The sheet `count_marks`: what each count met, missed and did not know, one row a line of a count.

Entries of the history say the same from the other side; where the two disagree the row is refused.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import CountMark, Found, PlaceCount, Tool
from tooling.services.sheets import cells, history, place_counts, tools
from tooling.services.sheets.history_rows import Line
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from tooling.services.sheets.who_when import not_ahead, people_named

_NAME = "count_marks"
_MOST_NUMBER = 2**53


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = {_key(row): row for row in _give()} if read else {}
    lines = history.counted(load)
    marked: dict[int, int] = {}
    taken = []
    for row in read:
        _check(row, lines, load)
        says = full(SHEET, row)
        if not row.wrong and _key(says) in there:
            _check_same(row, there[_key(says)], says, load)
            _check_once(row, says, marked, load)
        elif not row.wrong:
            place_counts.only_empty(row, "count", load)
            _check_once(row, says, marked, load)
            taken.append(says)
        note(_NAME, row, load.report)
    _check_all_marked(lines, marked, read, load)
    load.kept[_NAME] = taken


def _key(says: Mapping[str, Any]) -> tuple[Any, ...]:
    """What makes two rows the same: the entry, or the text that nobody knew in that count."""
    return (says["entry"],) if says["entry"] is not None else (says["count"], says["text"].upper())


def _check_same(row: Row, given: Mapping[str, Any], says: Mapping[str, Any], load: Load) -> None:
    code = str(says["entry"] or says["text"])
    if differs := already_there(SHEET, code, given, says, load):
        row.wrong["entry" if says["entry"] is not None else "text"] = differs


def _check(row: Row, lines: Mapping[int, Line], load: Load) -> None:
    values = row.values
    if "count" in values and values["count"] not in place_counts.numbers(load):
        row.wrong.setdefault("count", no_such(_("count"), str(values["count"])))
    not_ahead(row, load, "at")
    if values.get("found") == Found.UNKNOWN:
        if not values.get("text"):
            row.wrong.setdefault("text", _("Say what stood on the tag."))
        for column in ("tool", "entry"):
            if column in values:
                row.wrong.setdefault(column, _("A tag that nobody knew is of no tool. Leave this empty."))
    elif values.get("found"):
        _check_entry(row, lines, load)


def _check_entry(row: Row, lines: Mapping[int, Line], load: Load) -> None:
    """The entry that wrote the line has to say the same."""
    values = row.values
    tool = tools.taken(load).find(values["tool"]) if "tool" in values else None
    if tool is None:
        said = no_such(_("tool"), values["tool"]) if "tool" in values else _("Say which tool.")
        row.wrong.setdefault("tool", said)
        return
    values["tool"] = tool.code
    if not load.is_empty:  # what is there already is compared as a whole
        return
    line = lines.get(values.get("entry", 0))
    if line is None or line.said.get("counted") != values.get("count") or str(line.fact.tool) != tool.code:
        message = _("No entry of the history with this number says that this count met or missed this tool.")
        row.wrong.setdefault("entry", message)
        return
    found = Found.SEEN if line.said.get("place") else Found.MISSING
    same = {
        "found": values["found"] == found,
        "at": values.get("at", line.fact.at) == line.fact.at,
        "by": values.get("by", "").casefold() == line.by.casefold(),
    }
    for column in (column for column, is_same in same.items() if not is_same):
        row.wrong.setdefault(column, _("The entry of the history with this number says otherwise."))


def _check_once(row: Row, says: Mapping[str, Any], marked: dict[int, int], load: Load) -> None:
    key = says["entry"]
    if key is not None and marked.setdefault(key, row.number) != row.number:
        message = _("This entry stands in row %(row)s already.")
        row.wrong.setdefault("entry", message % {"row": load.row_said(_NAME, marked[key])})


def _check_all_marked(lines: Mapping[int, Line], marked: Mapping[int, int], read: list[Row], load: Load) -> None:
    """Every entry that names a count and stands is a line of it, or is in a row that is wrong otherwise."""
    named = set(marked) | {row.values.get("entry") for row in read}
    for number in history.standing(load, lines) - named:
        message = _("The sheet count_marks has no row with this entry.")
        load.report.wrong("history", lines[number].row, "counted", message)


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept[_NAME]
    count = dict(PlaceCount.objects.values_list("number", "pk"))
    tool = dict(Tool.objects.values_list("code", "pk")) if taken else {}
    person = people_named(taken, "by")
    CountMark.objects.bulk_create(
        (
            CountMark(
                count_id=count[says["count"]], found=says["found"], tool_id=tool.get(says["tool"]),
                entry_id=says["entry"], text=says["text"], at=says["at"], by_id=person.get(says["by"]),
                settled=bool(says["settled"]),
            )
            for says in taken
        ),
        batch_size=100,
    )  # fmt: skip
    return len(taken)


def _give() -> Iterator[dict[str, Any]]:
    marks = CountMark.objects.select_related("count", "tool", "by").order_by("count__number", "at", "pk")
    for mark in marks.iterator(chunk_size=2000):
        yield {
            "count": mark.count.number,
            "found": mark.found,
            "tool": mark.tool.code if mark.tool else None,
            "entry": mark.entry_id,
            "by": mark.by.name if mark.by else "",
            **{name: getattr(mark, name) for name in ("text", "at", "settled")},
        }


_COLUMNS = (
    Column("count", cells.whole(1), needed=True),
    Column("found", cells.word(*Found.values), needed=True),
    Column("tool", cells.REFERENCE),
    Column("entry", cells.whole(1, _MOST_NUMBER)),
    Column("text", empty=""),
    Column("at", cells.INSTANT, needed=True),
    Column("by", cells.name(80), empty=""),
    Column("settled", cells.YES_NO, empty=False),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
