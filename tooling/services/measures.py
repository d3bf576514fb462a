"""Measures as they are kept: exact in SI, and beside it what was typed in another unit."""

from decimal import Decimal

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.units import MOST, Read, stored
from tooling.models.fields import Measured


def keep(row: Measured, column: str, said: Read | None) -> None:
    """Sets a column of a row, unsaved, and what was typed; None: nobody knows."""
    row.as_typed = {name: was for name, was in row.as_typed.items() if name != column}
    setattr(row, column, None if said is None else _bounded(said, column))
    if said is not None and said.unit.symbol != said.unit.si:
        row.as_typed[column] = [said.text, said.unit.symbol]


def _bounded(said: Read, column: str) -> Decimal:
    number = stored(said.si)
    if abs(number) > MOST:
        raise Refused(_("That is more than the program can hold."), column)
    return number
