"""The sheet `rights`: who may accept, free or approve, from which day to which, one row a right."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.calc.right_ends import read_ends
from tooling.models import May, Person, Right, Role
from tooling.models.people import name_key
from tooling.services.rights import wrong_with
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, full, note
from tooling.services.sheets.who_when import not_ahead, people_named

_NAME = "rights"
_PEOPLE = ("person", "given_by", "ended_by")
_PLAIN = ("may", "since", "until", "given_at", "ended_at", "earlier")
Key = tuple[Any, ...]


def _take(rows: Iterable[Row], load: Load) -> None:
    read = list(rows)
    rows_there = list(_give()) if read else []
    stations = set(Person.objects.filter(role__in=Role.SHARED).values_list("name_key", flat=True)) if read else set()
    known: dict[Key, list[Mapping[str, Any]]] = {}
    for row_there in rows_there:
        known.setdefault(_whose(row_there), []).append(row_there)
    taken = []
    for row in read:
        _check_times(row, load)
        says = full(SHEET, row)
        if not row.wrong and says["person"] and name_key(says["person"]) in stations:
            row.wrong["person"] = _("A station is nobody: give the right to the person whose hands it is.")
        if not row.wrong and not any(_same(row, one) for one in rows_there):
            others = known.setdefault(_whose(says), [])
            row.wrong.update(wrong_with(says, others))
            others.append(says)
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check_times(row: Row, load: Load) -> None:
    not_ahead(row, load, "given_at", "ended_at")
    try:
        list(read_ends(row.values.get("earlier") or ""))
    except ValueError:
        text = _("Write each end that was said before as 2026-06-30 2026-11-03T10:00:00+00:00, with ; between.")
        row.wrong.setdefault("earlier", text)
    for column in ("ended_at", "ended_by", "earlier"):
        if row.values.get(column) and not row.values.get("until"):
            row.wrong.setdefault(column, _("Say as well which day was its last: until."))


def _whose(says: Mapping[str, Any]) -> Key:
    return name_key(says["person"]), says["may"]


def _same(row: Row, there: Mapping[str, Any]) -> bool:
    """Whether all that the row says is in the shop already."""
    return all(_BY_NAME[name].says_same(there[name], value) for name, value in row.values.items())


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept.pop(_NAME, [])
    person = people_named(taken, *_PEOPLE)
    made = []
    for says in taken:
        who = {f"{column}_id": person.get(says[column]) for column in _PEOPLE}
        plain = {name: says[name] for name in _PLAIN}
        made.append(Right(**who, **{**plain, "given_at": says["given_at"] or load.now}))
    Right.objects.bulk_create(made, batch_size=100)
    return len(made)


def _give() -> Iterator[dict[str, Any]]:
    rights = Right.objects.select_related("person", "given_by", "ended_by")
    # Sorted here: two databases have two orders of letters.
    for one in sorted(rights, key=lambda one: (one.person.name_key, one.may, one.since, one.pk)):
        people = {name: getattr(one, name).name if getattr(one, name) else "" for name in _PEOPLE}
        yield {**people, **{name: getattr(one, name) for name in _PLAIN}}


_COLUMNS = (
    Column("person", cells.name(80), needed=True),
    Column("may", cells.word(*May.values), needed=True),
    Column("since", cells.DATE, needed=True),
    Column("until", cells.DATE),
    Column("given_by", cells.name(80), empty=""),
    Column("given_at", cells.INSTANT),
    Column("ended_by", cells.name(80), empty=""),
    Column("ended_at", cells.INSTANT),
    Column("earlier", empty=""),
)
_BY_NAME = {column.name: column for column in _COLUMNS}
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
