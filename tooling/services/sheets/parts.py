"""The sheet `parts`: what is made, one row a revision."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import Part, PartRevision
from tooling.services.sheets import as_typed, cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note

_NAME = "parts"
Key = tuple[str, str]


@dataclass
class Revisions:
    """The parts that a cell may name, by their numbers in capitals, with their revisions, the newest last.

    What a wrong row says of its part counts as well; where nobody knows which revisions there are, it has none here.
    """

    known: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    unsure: set[str] = field(default_factory=set)
    is_unread: bool = False

    def of(self, number: str) -> list[str] | None:
        """The revisions of a part; empty where they are not known; None where there is no such part."""
        key = number.upper()
        if self.is_unread or key in self.unsure:
            return []
        return self.known.get(key)


def revisions(load: Load) -> Revisions:
    """The parts that a cell may name."""
    found: Revisions = load.kept[_NAME][1]
    found.is_unread = _NAME in load.unread
    return found


def _key(row: Mapping[str, Any]) -> Key:
    return row["number"].upper(), row["revision"]


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {_key(row): row for row in _give()}
    seen: dict[Key, int] = {}
    taken = []
    found = Revisions()
    for known in there.values():
        found.known[known["number"].upper()].append(known["revision"])
    for row in rows:
        wanted = full(SHEET, row)
        _know(row, wanted["revision"], found)
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
    load.kept[_NAME] = (taken, found)


def _know(row: Row, revision: str, found: Revisions) -> None:
    number = row.typed("number")
    if "revision" in row.wrong:
        found.unsure.add(number)
    elif revision not in found.known[number]:
        found.known[number].append(revision)


def _write(load: Load) -> int:
    taken: list[dict[str, Any]]
    taken, _found = load.kept[_NAME]
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
