"""Measures as they are kept: exact in SI, and beside it what was typed in another unit."""

from decimal import Decimal
from fractions import Fraction

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.units import MOST, UNITS, NotRead, Read, Unit, read, stored
from tooling.models.fields import Measured
from tooling.words.measures import si_of


def keep(row: Measured, column: str, said: Read | None) -> None:
    """Sets a column of a row, unsaved, and what was typed; None: nobody knows."""
    row.as_typed = {name: was for name, was in row.as_typed.items() if name != column}
    setattr(row, column, None if said is None else _bounded(said, column))
    if said is not None and said.unit.symbol != said.unit.si:
        row.as_typed[column] = [said.text, said.unit.symbol]


def stood(row: Measured, column: str) -> Read | None:
    """A column of a row as `keep` would be given it, to put it back as it was."""
    number = getattr(row, column)
    if number is None:
        return None
    text, symbol = row.as_typed.get(column, ("", ""))
    try:
        return read(text, UNITS[symbol])
    except (KeyError, NotRead):
        return Read(f"{number:f}", Fraction(number), Unit(si_of(column), si_of(column)))


def _bounded(said: Read, column: str) -> Decimal:
    number = stored(said.si)
    if abs(number) > MOST:
        raise Refused(_("That is more than the program can hold."), column)
    return number
