"""Who and when: what most sheets say in their rows, checked and looked up."""

from collections.abc import Iterable, Mapping
from typing import Any

from tooling.calc.check import FUTURE, Refusal
from tooling.models import Person
from tooling.services.refusals import refused
from tooling.services.sheets.table import Load, Row


def not_ahead(row: Row, load: Load, *columns: str) -> None:
    """Refuses times of a row that lie in the future."""
    for column in columns:
        at = row.values.get(column)
        if at is not None and at > load.now + FUTURE:
            row.wrong.setdefault(column, refused(Refusal("future")).message)


def people_named(rows: Iterable[Mapping[str, Any]], *columns: str) -> dict[str, int]:
    """The keys of the people in these columns, by name; an unknown one is made."""
    names = dict.fromkeys(says[column] for says in rows for column in columns if says[column])
    return {name: Person.objects.named(name).pk for name in names}
