"""The sheet `making_steps`: in which steps the shop builds its tools, kind by kind."""

from collections.abc import Iterable, Iterator
from itertools import count
from typing import Any

from django.utils.translation import gettext as _

from tooling.models import BY_ENTRY, Kind, MakingStep
from tooling.services.making_rules import wrong_with
from tooling.services.making_steps import LONGEST_NAME, LONGEST_NOTE
from tooling.services.sheets import cells
from tooling.services.sheets.table import Column, Load, Row, Sheet, already_there, full, note

_NAME = "making_steps"
_MOST_ORDER = 10_000


def _take(rows: Iterable[Row], load: Load) -> None:
    there = {_key(row): row for row in _give()}
    met: dict[tuple[str, str], int] = {}
    behind = count(max((row["order"] for row in there.values()), default=0) + 1)
    taken = []
    for row in rows:
        says = full(SHEET, row)
        for column, sentence in wrong_with(says).items():
            row.wrong.setdefault(column, sentence)
        if not row.wrong:
            _check_once(row, says, met, load)
        if not row.wrong and _key(says) in there:
            stands = there[_key(says)]
            says["order"] = says["order"] if says["order"] is not None else stands["order"]
            if differs := already_there(SHEET, stands["name"], stands, says, load):
                row.wrong["name"] = differs
        elif not row.wrong:
            says["order"] = says["order"] if says["order"] is not None else next(behind)
            taken.append(says)
        note(_NAME, row, load.report)
    load.kept[_NAME] = taken


def _key(says: dict[str, Any]) -> tuple[str, str]:
    """What makes two rows the same."""
    return says["kind"], says["name"].upper()


def _check_once(row: Row, says: dict[str, Any], met: dict[tuple[str, str], int], load: Load) -> None:
    first = met.setdefault(_key(says), row.number)
    if first != row.number:
        message = _("%(code)s stands in row %(row)s already.")
        row.wrong["name"] = message % {"code": says["name"], "row": load.row_said(_NAME, first)}


def _write(load: Load) -> int:
    steps = [MakingStep(**says) for says in load.kept.pop(_NAME, [])]
    MakingStep.objects.bulk_create(steps, batch_size=100)
    return len(steps)


def _give() -> Iterator[dict[str, Any]]:
    # Sorted here: two databases have two orders of letters.
    for step in sorted(MakingStep.objects.all(), key=lambda one: (one.kind, one.order, one.pk)):
        yield {column.name: getattr(step, column.name) for column in _COLUMNS}


_COLUMNS = (
    Column("kind", cells.word(*Kind.values, mold_insert=Kind.INSERT.value), needed=True),
    Column("order", cells.whole(1, _MOST_ORDER)),
    Column("name", cells.name(LONGEST_NAME), needed=True),
    Column("by_entry", cells.word(*BY_ENTRY), empty=""),
    Column("note", cells.name(LONGEST_NOTE), empty=""),
)
SHEET = Sheet(_NAME, _COLUMNS, _take, _write, _give)
