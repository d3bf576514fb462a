"""Lengths, masses and temperatures in metric or US units. Pure: everything is exact until it is stored or shown.

Sources. The inch is 25.4 mm, the foot 0.3048 m and the pound 0.45359237 kg by definition (NIST SP 811, 2008 edition,
appendix B.8, where all three stand in bold: exact); a degree Fahrenheit is 5/9 of a degree Celsius and 32 °F is 0 °C
(the same, B.8, and ISO 80000-5).
"""

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

METRIC, US = "metric", "us"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: so many of `si` are one of it, and where its zero lies in `si`. `other` words that mean it."""

    symbol: str
    si: str
    scale: Fraction = Fraction(1)
    zero: Fraction = Fraction(0)
    other: tuple[str, ...] = ()
    in_fractions: bool = False


_INCH = Fraction("25.4")
_FOOT = Fraction("0.3048")
_POUND = Fraction("0.45359237")
_DEGREE = Fraction(5, 9)
UNITS = {
    unit.symbol: unit
    for unit in (
        Unit("mm", "mm"),
        Unit("kg", "kg"),
        Unit("°C", "°C", other=("c",)),
        Unit("m", "m"),
        Unit("cm", "mm", Fraction(10)),
        Unit("mm/min", "mm/min"),
        Unit("in", "mm", _INCH, other=('"', "′′", "”", "inch", "inches"), in_fractions=True),
        Unit("lb", "kg", _POUND, other=("lbs",)),
        Unit("ft", "m", _FOOT, other=("′", "foot", "feet")),
        Unit("in/min", "mm/min", _INCH, other=("ipm", "inch/min", "inches/min")),
        Unit("°F", "°C", _DEGREE, -32 * _DEGREE, other=("f",)),
    )
}
_OF_SYSTEM = {METRIC: {}, US: {"mm": "in", "m": "ft", "kg": "lb", "°C": "°F", "mm/min": "in/min"}}

# The finest mark on a rule.
FINEST = 64
# A stored number has six digits behind the point, and nine before it.
STEP = Decimal("0.000001")
MOST = Decimal("999999999.999999")
# Behind the point: what comes back exactly from a stored number, and what is read as exact.
_KEPT, _READ = 5, 3
# Behind the point of a length that a machine is set to.
_FINE = {"mm": 2, "in": 3}
# Of what was measured to be compared, as a micrometer has it.
_CLOSE = {"mm": 3, "in": 4}
# What is only about right is read on a rule: parts of an inch, from so many inches on.
_MARKS = ((24, 8), (1, 16), (0, FINEST))
# Longer than any number that is meant; it also keeps the work of reading one small.
LONGEST = 40

_DECIMAL = re.compile(r"\d*[.,]?\d+|\d+[.,]")
_FRACTION = re.compile(r"(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<over>\d+)\s*/\s*(?P<under>\d+)")
# 1,250 is a thousand and more to one reader and one and a quarter to another; so is 1.250 where people count in
# metres. Nobody who counts in inches writes a thousand with a point.
_TWO_WAYS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


class NotRead(ValueError):
    """A text that is no number: `code` is no_number, two_ways, other_unit or too_long.

    `ways`: the two numbers that it may mean, the smaller first.
    """

    def __init__(self, code: str, ways: tuple[str, str] = ("", "")) -> None:
        """Keeps the reason."""
        super().__init__(code)
        self.code, self.ways = code, ways


@dataclass(frozen=True, slots=True)
class Read:
    """A number as somebody typed it: its text without a unit, exactly, and in which unit."""

    text: str
    number: Fraction
    unit: Unit

    @property
    def si(self) -> Fraction:
        """The same in millimetres, kilograms or degrees Celsius, exactly."""
        return to_si(self.number, self.unit)


def unit_of(si: str, system: str) -> Unit:
    """The unit in which a person of that system reads what is stored in `si`; one without another is its own."""
    return UNITS.get(_OF_SYSTEM.get(system, {}).get(si, si)) or Unit(si, si)


def to_si(number: Fraction, unit: Unit) -> Fraction:
    """A number of a unit in SI, exactly."""
    return number * unit.scale + unit.zero


def from_si(number: Fraction | Decimal, unit: Unit) -> Fraction:
    """An SI number in a unit, exactly."""
    return (Fraction(number) - unit.zero) / unit.scale


def stored(number: Fraction) -> Decimal:
    """An SI number as a column keeps it: to a millionth, half to even; every 64th of an inch is exact there."""
    return Decimal(round(number / Fraction(STEP))).scaleb(-6)


def read(text: str, unit: Unit) -> Read:
    """What a person means by 3 1/2, 3-1/2, ½, 12.5, 12,5, -10 or, naming another unit of the same thing, 90 mm."""
    text = text.strip()
    if len(text) > LONGEST:
        raise NotRead("too_long")
    words, unit = _without_unit(_opened(text), unit)
    below = words.startswith(("-", "−"))
    words_of_it = words[1:].lstrip() if below else words
    if _TWO_WAYS.fullmatch(words_of_it) and ("," in words_of_it or unit.symbol == unit.si):
        raise NotRead("two_ways", _ways(words_of_it))
    number = _positive(words_of_it)
    return Read(words, -number if below else number, unit)


def _ways(text: str) -> tuple[str, str]:
    """What 5.350 may mean, as it can be read in one way only: 5.35 or 5350. Three digits that count get an idle one."""
    whole, parts = re.split("[.,]", text)
    short = parts.rstrip("0") if parts.endswith("0") else f"{parts}0"
    return f"{whole}.{short}".rstrip("."), whole + parts


def _opened(text: str) -> str:
    """The signs ½ and ⅝ written out, digits of any width made plain."""
    text = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", text)
    return " ".join(unicodedata.normalize("NFKC", text).replace("⁄", "/").split())


def _without_unit(text: str, unit: Unit) -> tuple[str, Unit]:
    """The number alone, and the unit that stood behind it, else the one that goes without saying."""
    tail = re.search(r"[^\d.,/\s][^\d]*$", text)
    if tail is None:
        return text, unit
    word = tail.group().strip().rstrip(".").casefold()  # a double prime is two by now
    for one in (unit, *UNITS.values()):
        if word in {one.symbol.casefold(), one.symbol.casefold().lstrip("°"), *one.other}:
            if one.si != unit.si:
                raise NotRead("other_unit")
            return text[: tail.start()].rstrip(), one
    raise NotRead("no_number")


def _positive(text: str) -> Fraction:
    if not text.isascii():
        raise NotRead("no_number")
    if fraction := _FRACTION.fullmatch(text):
        whole, over, under = (int(fraction[name] or 0) for name in ("whole", "over", "under"))
        if under == 0:
            raise NotRead("no_number")
        return whole + Fraction(over, under)
    if not _DECIMAL.fullmatch(text):
        raise NotRead("no_number")
    return Fraction(text.replace(",", ".").removesuffix("."))


def shown(number: Fraction | Decimal, unit: Unit) -> tuple[str, bool]:
    """An SI number as it is read in a unit, and whether that is all of it: (3 1/2, True), or (3 15/16, False)."""
    value = from_si(number, unit)
    if unit.symbol == unit.si:
        return _plain(value, 6), True
    text = _typed(_near(value, unit, _READ), unit)
    if stored(read(text, unit).si) == stored(Fraction(number)):
        return text, True
    return _typed(_about(value, unit), unit), False


def finely(number: Fraction | Decimal | float, unit: Unit) -> str:
    """A length as a machine is set to it, without its unit: 6.35, 0.256, or a mark of the rule where it is just one."""
    return _to_digits(number, unit, _FINE[unit.symbol])


def closely(number: Fraction | Decimal | float, unit: Unit) -> str:
    """The same a digit closer, for what was measured and for how far that is off: 11.921, 0.4716."""
    return _to_digits(number, unit, _CLOSE[unit.symbol])


def _to_digits(number: Fraction | Decimal | float, unit: Unit, digits: int) -> str:
    value = from_si(Fraction(str(number)) if isinstance(number, float) else number, unit)
    return _typed(_near(value, unit, digits), unit) if unit.symbol != unit.si else _plain(value, digits)


def typed(number: Fraction | Decimal, unit: Unit) -> str:
    """An SI number as it would be typed into a form, with all the digits that count, to be read in one way only."""
    value = from_si(number, unit)
    if unit.symbol != unit.si:
        return _typed(_near(value, unit, _KEPT), unit)
    text = _plain(value, 6)
    return text + "0" * bool(_TWO_WAYS.fullmatch(text.removeprefix("-")))


def _near(value: Fraction, unit: Unit, digits: int) -> Fraction:
    """The number that was most likely meant: a mark of the rule where one is there, else so many digits."""
    mark = Fraction(round(value * FINEST), FINEST)
    if unit.in_fractions and abs(mark - value) * unit.scale < Fraction(STEP):
        return mark
    return Fraction(round(value * 10**digits), 10**digits)


def _about(value: Fraction, unit: Unit) -> Fraction:
    """A number that comes from another unit, no finer than somebody wants to know: 210 5/8 in, 84 lb, 142.3 °F."""
    if unit.in_fractions:
        parts = next(parts for least, parts in _MARKS if abs(value) >= least)
        mark = Fraction(round(value * parts), parts)
        return mark or _of_three(value)
    if unit.si == "kg" and abs(value) >= 20:
        return Fraction(round(value))
    return Fraction(round(value * 10), 10) or _of_three(value)


def _of_three(value: Fraction) -> Fraction:
    """To three digits that count."""
    return Fraction(f"{float(value):.2e}")


def _typed(value: Fraction, unit: Unit) -> str:
    if unit.in_fractions and value.denominator != 1 and FINEST % value.denominator == 0:
        whole, rest = divmod(abs(value), 1)
        sign = "-" if value < 0 else ""
        return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"
    return _plain(value, _KEPT)


def _plain(value: Fraction, digits: int) -> str:
    """A number with at most so many digits behind the point, without idle zeros."""
    text = f"{Decimal(round(value * 10**digits)).scaleb(-digits):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
