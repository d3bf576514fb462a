"""The sheet `containment_marks`: parts in doubt that somebody looked at, one row a mark, taken back or not.

It names entries by the numbers of the sheet `history`, so only an empty shop takes what it does not have.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.entry import MADE_KINDS
from tooling.models import ContainmentMark, Verdict
from tooling.models.serials import LONGEST_KEY, key_of
from tooling.services.sheets import cells, history, place_counts
from tooling.services.sheets.history_rows import Line
from tooling.services.sheets.table import Column, Load, Row, Sheet, full, note
from tooling.services.sheets.who_when import not_ahead, people_named

_NAME = "containment_marks"
_MOST_NUMBER = 2**53
_PEOPLE = ("by", "recorded_by", "taken_back_by")


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    there = list(_give()) if read else []
    lines = history.numbered(load) if read else {}
    standing: dict[tuple[Any, ...], int] = {}
    taken = []
    for row in read:
        _check(row, lines, load)
        says = full(SHEET, row)
        says = {**says, "lot": key_of(says["lot"]), "serial": key_of(says["serial"])}
        says["recorded_at"] = says["recorded_at"] or says["at"]
        if not row.wrong and not any(_same(says, one) for one in there):
            place_counts.only_empty(row, "use", load)
            _check_once(row, says, standing, load)
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _same(says: Mapping[str, Any], there: Mapping[str, Any]) -> bool:
    return all(column.says_same(there[column.name], says[column.name]) for column in _COLUMNS)


def _check(row: Row, lines: Mapping[int, Line], load: Load) -> None:
    values = row.values
    if bool(values.get("entry")) == bool(values.get("lot")) and not {"entry", "lot"} & row.wrong.keys():
        row.wrong["entry"] = _("Say either which entry put it in doubt, or which lot.")
    if values.get("found") == Verdict.NOT_GOOD and not values.get("words"):
        row.wrong.setdefault("words", _("Say in a few words what is not good."))
    not_ahead(row, load, "at", "recorded_at", "taken_back_at")
    if values.get("taken_back_by") and not values.get("taken_back_at"):
        row.wrong.setdefault("taken_back_at", _("Say as well when it was taken back: taken_back_at."))
    if load.is_empty:
        _check_entries(row, lines)


def _check_entries(row: Row, lines: Mapping[int, Line]) -> None:
    entry, use = (row.values.get(column) for column in ("entry", "use"))
    if entry is not None and entry not in lines:
        row.wrong.setdefault("entry", _("No entry of the history has this number."))
    if use is not None and (use not in lines or lines[use].fact.kind not in MADE_KINDS):
        row.wrong.setdefault("use", _("No lay-up, pull or cut of the history has this number."))


def _check_once(row: Row, says: Mapping[str, Any], standing: dict[tuple[Any, ...], int], load: Load) -> None:
    """One mark stands of each part and doubt; the others were taken back."""
    if says["taken_back_at"] is not None:
        return
    key = (says["entry"], says["lot"], says["use"], says["serial"])
    if standing.setdefault(key, row.number) != row.number:
        message = _("This part is marked in row %(row)s already. Say when one of the two was taken back.")
        row.wrong.setdefault("use", message % {"row": load.row_said(_NAME, standing[key])})


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept.pop(_NAME, [])
    person = people_named(taken, *_PEOPLE)
    ContainmentMark.objects.bulk_create(
        (
            ContainmentMark(
                of_entry_id=says["entry"], of_lot=says["lot"], use_id=says["use"], serial=says["serial"],
                **{name: says[name] for name in ("found", "words", "at", "recorded_at", "taken_back_at")},
                **{f"{name}_id": person.get(says[name]) for name in _PEOPLE},
            )
            for says in taken
        ),
        batch_size=100,
    )  # fmt: skip
    return len(taken)


def _give() -> Iterator[dict[str, Any]]:
    for one in ContainmentMark.objects.select_related(*_PEOPLE).order_by("at", "pk").iterator(chunk_size=2000):
        people = {name: getattr(one, name).name if getattr(one, name) else "" for name in _PEOPLE}
        plain = {
            name: getattr(one, name) for name in ("serial", "found", "words", "at", "recorded_at", "taken_back_at")
        }
        yield {"entry": one.of_entry_id, "lot": one.of_lot, "use": one.use_id, **plain, **people}


_COLUMNS = (
    Column("entry", cells.whole(1, _MOST_NUMBER)),
    Column("lot", cells.name(LONGEST_KEY), empty=""),
    Column("use", cells.whole(1, _MOST_NUMBER), needed=True),
    Column("serial", cells.name(LONGEST_KEY), empty=""),
    Column("found", cells.word(*Verdict.values), needed=True),
    Column("words", cells.TEXT, empty=""),
    Column("at", cells.INSTANT, needed=True),
    Column("by", cells.name(80), empty=""),
    Column("recorded_by", cells.name(80), empty=""),
    Column("recorded_at", cells.INSTANT),
    Column("taken_back_at", cells.INSTANT),
    Column("taken_back_by", cells.name(80), empty=""),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
