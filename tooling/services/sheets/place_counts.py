"""The sheet `counts`: counts of places, one row each. Only an empty shop takes one that it does not have."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import PlaceCount
from tooling.services.sheets import cells, places
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, no_such, note
from tooling.services.sheets.who_when import not_ahead, people_named

_NAME = "counts"
_MOST_NUMBER = 2**31 - 1


@dataclass
class _Taken:
    rows: list[dict[str, Any]]
    numbers: set[int]


def numbers(load: Load) -> set[int]:
    """The counts that a cell may name."""
    taken: _Taken = load.kept[_NAME]
    return taken.numbers


def only_empty(row: Row, column: str, load: Load) -> None:
    """Refuses what is not in the shop yet, unless nothing is."""
    if not load.is_empty:
        message = _("Only an empty shop takes this. Take the row out, or import into an empty shop.")
        row.wrong.setdefault(column, message)


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {row["number"]: row for row in _give()}
    taken = _Taken([], set(there))
    seen: dict[int, int] = {}
    open_now: set[str] = {row["place"] for row in there.values() if row["ended_at"] is None}
    for row in rows:
        number = row.values.get("number")
        _check(row, load)
        if number is not None and seen.setdefault(number, row.number) != row.number:
            message = _("This number stands in row %(row)s already.")
            row.wrong["number"] = message % {"row": load.row_said(_NAME, seen[number])}
        says = full(SHEET, row)
        if not row.wrong and number in there:
            if differs := already_there(SHEET, str(number), there[number], says, load):
                row.wrong["number"] = differs
        elif not row.wrong:
            only_empty(row, "number", load)
            _check_one_open(row, says, open_now)
            taken.rows.append(says)
        if number is not None:
            taken.numbers.add(number)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _check(row: Row, load: Load) -> None:
    values = row.values
    place = values.get("place")
    if place is not None and place not in places.codes(load):
        row.wrong.setdefault("place", no_such(_("place"), place))
    not_ahead(row, load, "begun_at", "ended_at")
    begun, ended = values.get("begun_at"), values.get("ended_at")
    if begun is not None and ended is not None and ended < begun:
        row.wrong.setdefault("ended_at", _("It cannot end before it began."))
    if ended is None and "ended_at" not in row.wrong:
        for column in ("ended_by", "given_up"):
            if values.get(column):
                row.wrong.setdefault(column, _("Say as well when it was ended: ended_at."))


def _check_one_open(row: Row, says: dict[str, Any], open_now: set[str]) -> None:
    if says["ended_at"] is None:
        if says["place"] in open_now:
            row.wrong.setdefault("place", _("This place is being counted already. Say when that count ended."))
        open_now.add(says["place"])


def _write(load: Load) -> int:
    taken: _Taken = load.kept[_NAME]
    person = people_named(taken.rows, "begun_by", "ended_by")
    place = places.keys()
    PlaceCount.objects.bulk_create(
        (
            PlaceCount(
                number=row["number"], place_id=place[row["place"]], begun_at=row["begun_at"], ended_at=row["ended_at"],
                begun_by_id=person.get(row["begun_by"]), ended_by_id=person.get(row["ended_by"]),
                given_up=bool(row["given_up"]),
            )
            for row in taken.rows
        ),
        batch_size=100,
    )  # fmt: skip
    return len(taken.rows)


def _give() -> Iterator[dict[str, Any]]:
    for row in PlaceCount.objects.select_related("place", "begun_by", "ended_by").order_by("number"):
        yield {
            "number": row.number,
            "place": row.place.code,
            "begun_at": row.begun_at,
            "begun_by": row.begun_by.name if row.begun_by else "",
            "ended_at": row.ended_at,
            "ended_by": row.ended_by.name if row.ended_by else "",
            "given_up": row.given_up,
        }


_COLUMNS = (
    Column("number", cells.whole(1, _MOST_NUMBER), needed=True),
    Column("place", cells.REFERENCE, needed=True),
    Column("begun_at", cells.INSTANT, needed=True),
    Column("begun_by", cells.name(80), empty=""),
    Column("ended_at", cells.INSTANT),
    Column("ended_by", cells.name(80), empty=""),
    Column("given_up", cells.YES_NO, empty=False),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
