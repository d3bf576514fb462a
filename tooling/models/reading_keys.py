"""Which readings belong together, and in which unit they are compared."""

from __future__ import annotations

import unicodedata
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import NamedTuple

from shared.units import UNITS, stored, to_si


class Key(NamedTuple):
    """What makes two readings comparable: the same quantity, unit and geometry, the first and last in any case."""

    quantity: str
    unit: str
    geometry: str


def key_of(quantity: str, unit: str, geometry: str = "") -> Key:
    """What readings are put together by.

    Stray spaces count nothing. Lengths and temperatures go by mm and °C, whichever unit they were read in.
    """
    return Key(_folded(quantity).casefold(), si_of(unit), _folded(geometry).casefold())


def condition_of(geometry: str, minutes: str = "") -> str:
    """Under which condition something was read, its geometry or its minutes: a drop over 5 is none over 10."""
    return _folded(geometry) or (f"{_plain(minutes)} min" if minutes else "")


def si_of(unit: str) -> str:
    """The unit in which readings of this one are compared: mm for in, °C for °F, every other as it is."""
    tidy = _folded(unit)
    return UNITS[tidy].si if tidy in UNITS else tidy


def value_in_si(value: str | Decimal, unit: str) -> Decimal | None:
    """A reading in the unit in which it is compared; None where it is no number."""
    try:
        number = Decimal(str(value))
    except InvalidOperation:
        return None
    if not number.is_finite():
        return None
    tidy = _folded(unit)
    if tidy not in UNITS or UNITS[tidy].si == tidy:
        return number
    return stored(to_si(Fraction(number), UNITS[tidy]))


def _folded(text: str) -> str:
    """Single spaces, and one micro sign where two alphabets have one each."""
    return " ".join(unicodedata.normalize("NFC", text).replace("\u03bc", "\u00b5").split())


def _plain(number: str) -> str:
    return number.rstrip("0").rstrip(".") if "." in number else number
