"""The sheet `parts`: what is made, one row a revision."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Part, PartRevision
from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note

_NAME = "parts"
Key = tuple[str, str]


def _key(row: Mapping[str, Any]) -> Key:
    return row["number"].upper(), row["revision"]


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {_key(row): row for row in _give()}
    seen: dict[Key, int] = {}
    taken = []
    for row in rows:
        wanted = full(SHEET, row)
        if "number" in row.values and "revision" not in row.wrong:
            key = _key(wanted)
            first = seen.setdefault(key, row.number)
            if first != row.number:
                message = _("This part and revision stand in row %(row)d already.")
                row.wrong.setdefault("number", message % {"row": first})
            if not row.wrong and key in there:
                # the number of a part is the same in any case
                wanted["number"] = there[key]["number"]
                if differs := already_there(SHEET, wanted["number"], there[key], wanted, load):
                    row.wrong["number"] = differs
            elif not row.wrong:
                taken.append(wanted)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _write(load: Load) -> int:
    taken: list[dict[str, Any]] = load.kept[_NAME]
    known = {part.number.upper(): part for part in Part.objects.all()}
    new: dict[str, str] = {}
    for row in taken:
        if row["number"].upper() not in known:
            new.setdefault(row["number"].upper(), row["number"])
    made = Part.objects.bulk_create([Part(number=number) for number in new.values()], batch_size=500)
    known.update({part.number.upper(): part for part in made})
    revisions = [
        PartRevision(
            part=known[row["number"].upper()],
            **{**{name: row[name] for name in row if name != "number"}, as_typed.NAME: as_typed.still(row)},
        )
        for row in taken
    ]
    PartRevision.objects.bulk_create(revisions, batch_size=50)
    return len(revisions)


def _give() -> Iterator[dict[str, Any]]:
    revisions = PartRevision.objects.select_related("part")
    # sorted here: two databases have two orders of letters
    for one in sorted(revisions, key=lambda one: (one.part.number, one.pk)):
        row = {column.name: getattr(one, column.name) for column in _COLUMNS if column.name != "number"}
        yield {"number": one.part.number, **row}


_COLUMNS = (
    Column("number", cells.name(80), needed=True),
    Column("revision", cells.name(40), empty=""),
    Column("name", cells.name(200), needed=True),
    Column("resin", empty=""),
    Column("process", empty=""),
    Column("cure_c", cells.number()),
    Column("peak_c", cells.number()),
    Column("layup_minutes", cells.number(0)),
    Column("in_mold_hours", cells.number(0)),
    Column("laminate", empty=""),
    Column("note", empty=""),
    as_typed.column(("cure_c", "peak_c")),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
