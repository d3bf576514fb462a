"""The sheet `temperatures`: how warm the shop was, one row a measurement, struck out ones as well."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Person, Temperature
from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, full, note
from tooling.services.sheets.who_when import not_ahead, people_named
from tooling.services.temperature import check_range

_NAME = "temperatures"
# What only an export writes, and only an empty shop takes
_RECORDED = ("recorded_at", "recorded_by", "struck_at", "struck_by", "struck_why")
_PEOPLE = ("by", "recorded_by", "struck_by")


def _take(rows: Iterable[Row], load: Load) -> None:
    there: dict[Any, list[dict[str, Any]]] = defaultdict(list)
    for one in _give():
        there[one["at"]].append(one)
    seen: dict[tuple[str, ...], int] = {}
    taken = []
    for row in rows:
        _check(row, load)
        if not row.wrong:
            wanted = full(SHEET, row)
            key = tuple(str(wanted[column.name]) for column in _COLUMNS if not column.beside)
            if seen.setdefault(key, row.number) != row.number:
                message = _("This measurement stands in row %(row)s already.")
                row.wrong["at"] = message % {"row": load.row_said(_NAME, seen[key])}
            elif not any(_says_same(row, one) for one in there[wanted["at"]]):
                _check_recorded(row, load)
                taken.append(wanted)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _says_same(row: Row, one: Mapping[str, Any]) -> bool:
    """Whether all that the row says is in the shop already."""
    return all(_BY_NAME[name].says_same(one[name], value) for name, value in row.values.items())


def _check(row: Row, load: Load) -> None:
    try:
        if "value_c" in row.values:
            check_range(Temperature(value_c=row.values["value_c"]), "value_c")
    except Refused as out:
        row.wrong.setdefault("value_c", out.message)
    not_ahead(row, load, "at", "recorded_at", "struck_at")


def _check_recorded(row: Row, load: Load) -> None:
    for column in _RECORDED:
        if column in row.values and not load.is_empty:
            message = _("Only an empty shop takes this. Take the column out, or import into an empty shop.")
            row.wrong.setdefault(column, message)


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept[_NAME]
    person = people_named(taken, *_PEOPLE)
    rows = (_row(one, person, load) for one in taken)
    Temperature.objects.bulk_create(rows, batch_size=50)
    return len(taken)


def _row(said: Mapping[str, Any], person: Mapping[str, int], load: Load) -> Temperature:
    is_export = said["recorded_at"] is not None
    brought_by = load.by.pk if load.by is not None and not is_export else None
    return Temperature(
        at=said["at"],
        value_c=said["value_c"],
        by_id=person.get(said["by"]),
        recorded_by_id=person.get(said["recorded_by"]) or brought_by,
        recorded_at=said["recorded_at"] or load.now,
        note=said["note"],
        struck_at=said["struck_at"],
        struck_by_id=person.get(said["struck_by"]),
        struck_why=said["struck_why"],
        as_typed=as_typed.still(said),
    )


def _give() -> Iterator[dict[str, Any]]:
    person = dict(Person.objects.values_list("pk", "name"))
    for one in Temperature.objects.order_by("at", "recorded_at", "pk").iterator(chunk_size=2000):
        row = {column.name: getattr(one, column.name) for column in _COLUMNS if column.name not in _PEOPLE}
        yield {**row, **{column: person.get(getattr(one, f"{column}_id"), "") for column in _PEOPLE}}


_COLUMNS = (
    Column("at", cells.INSTANT, needed=True),
    Column("value_c", cells.number(), needed=True),
    Column("by", cells.name(80), empty=""),
    Column("note", empty=""),
    Column("struck_at", cells.INSTANT),
    Column("struck_by", cells.name(80), empty=""),
    Column("struck_why", empty=""),
    Column("recorded_at", cells.INSTANT),
    Column("recorded_by", cells.name(80), empty=""),
    as_typed.column(("value_c",)),
)
_BY_NAME = {column.name: column for column in _COLUMNS}
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
