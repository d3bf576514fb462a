"""Measures in a person's own units: what was typed comes back as it was, all else is worked out."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shared.units import METRIC, UNITS, NotRead, Unit, read, shown, stored, typed, unit_of

_SI = {
    "_mm": "mm", "_m": "m", "_kg": "kg", "_c": "°C", "_deg": "°", "_minutes": "min", "_hours": "h", "_mm_min": "mm/min",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Measure:
    """A number with its unit; `whole` is false where digits were left out."""

    text: str
    unit: str
    whole: bool = True

    def __str__(self) -> str:
        about = "" if self.whole else "≈ "
        return f"{about}{self.text} {self.unit}".rstrip()


def si_of(column: str) -> str:
    """The unit in which a column is stored, told by the end of its name; "" where its number counts nothing."""
    return next((unit for end, unit in _SI.items() if column.endswith(end)), "")


def unit_for(column: str, system: str) -> Unit:
    """The unit in which a person reads a column."""
    return unit_of(si_of(column), system)


def measure(number: Decimal, si: str, system: str, as_typed: Any = None) -> Measure:
    """A stored number for a reader; `as_typed`: the text and unit that it was typed in, where that is known."""
    unit = unit_of(si, system)
    if text := _still(number, unit, as_typed):
        return Measure(text, unit.symbol)
    text, whole = shown(number, unit)
    return Measure(text, unit.symbol, whole)


def to_type(row: Any, column: str, system: str) -> str:
    """A column of a row as it stands in a form; "" where it is not known."""
    return "" if getattr(row, column) is None else _to_type(row, column, system)[0]


def stands_behind(row: Any, column: str, system: str) -> str:
    """What is stored where a form shows it rounded, as it was typed or in its own unit; else ""."""
    number = getattr(row, column)
    if number is None or _to_type(row, column, system)[1]:
        return ""
    return str(measure(number, si_of(column), METRIC, row.as_typed.get(column)))


def _to_type(row: Any, column: str, system: str) -> tuple[str, bool]:
    number, unit = getattr(row, column), unit_for(column, system)
    if text := _still(number, unit, row.as_typed.get(column)):
        return text, True
    return (typed(number, unit), True) if unit.symbol == unit.si else shown(number, unit)


def _still(number: Decimal, unit: Unit, as_typed: Any) -> str:
    """What was typed in this unit, where it is still what is stored."""
    if not as_typed or as_typed[1] != unit.symbol or unit.symbol not in UNITS:
        return ""
    text = str(as_typed[0])
    try:
        return text if stored(read(text, unit).si) == number else ""
    except NotRead:
        return ""
