"""Sizes that a machine is set to, in a reader's units: as they were typed, else finer than a rule has them.

A router or mill is set to hundredths of a millimetre, or to thousandths of an inch: a rule is too coarse for it.
"""

import re
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

from shared.units import closely as close
from shared.units import finely, from_si, typed, unit_of
from tooling.models.fields import plain
from tooling.words.measures import measure

# What is held against what was measured, or was measured itself.
_COMPARED = ("measured_mm", "opening_mm", "tolerance_mm")
_TOGETHER = re.compile(r"(?<=\d) (?=(?:mm|in|m|ft)\b)|(?<=[Ø±R]) (?=\d)|(?<=\d) (?=\d+/\d)")


def unbroken(words: str) -> str:
    """The same, no line of it ending between a number and what belongs to it."""
    return _TOGETHER.sub("\N{NO-BREAK SPACE}", words)


def given(row: Any, column: str, units: str) -> str:
    """A size that somebody wrote down, as it was typed where the unit is the same; "" where there is none."""
    value = getattr(row, column)
    made = closely if column in _COMPARED else worked
    return "" if value is None else size(value, units, row.as_typed.get(column), made)


def size(number: Decimal, units: str, as_typed: Any = None, made: Callable[..., str] | None = None) -> str:
    """All digits of a stored size; in inches a mark of the rule where it is one, else thousandths, or as `made`."""
    said = measure(number, "mm", units, as_typed)
    return str(said) if said.whole else (made or worked)(number, units)


def worked(number: Decimal | float, units: str) -> str:
    """A size that was worked out: 6.35 mm or 1/4 in, 6.5 mm or 0.256 in."""
    unit = unit_of("mm", units)
    return f"{finely(number, unit)} {unit.symbol}"


def exactly(number: Decimal | float, units: str) -> str:
    """A size that another is compared with, with all digits that count: 0.25 mm or 0.00984 in."""
    unit = unit_of("mm", units)
    return f"{typed(Decimal(str(number)), unit)} {unit.symbol}"


def closely(number: Decimal | float, units: str) -> str:
    """How far something that was measured is off, or what it measures: 0.008 mm or 0.0003 in."""
    unit = unit_of("mm", units)
    return f"{close(number, unit)} {unit.symbol}"


def counting(number: Decimal | float, units: str, digits: int = 2) -> str:
    """A small size that was worked out, with at most so many digits that count: 0.0076 mm, 0.0003 in, 14.7 mm."""
    unit = unit_of("mm", units)
    value = Decimal(str(float(from_si(Fraction(str(number)), unit))))
    step = Decimal(1).scaleb(max(value.adjusted() - digits + 1, -6) if value and abs(value) < 1 else -1)
    return f"{plain(value.quantize(step)):f} {unit.symbol}"


def times(first: str, second: str) -> str:
    """220 × 100 mm, of two sizes that are said already."""
    if not first or not second:
        return first or second
    number, _space, unit = first.rpartition(" ")
    return f"{number} × {second}" if second.endswith(f" {unit}") else f"{first} × {second}"
