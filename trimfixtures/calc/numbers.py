"""Numbers inside a longer text: the points of an outline, what a check found. Always mm, never another unit."""

import re
from decimal import Decimal

from trimfixtures.calc.refusal import Refusal

# A stored number has so many digits behind the point.
DIGITS = 6
# The longest that is kept in mm before the point, as in the columns of the shop.
MOST = 999_999_999.0
# A comma with three digits behind it may be a thousand to one reader and a decimal to another: it is not read.
_NUMBER = re.compile(r"[+\-−]?(?:\d{1,9}(?:\.\d*|,(?!\d{3}$)\d+)?|\.\d+)", re.ASCII)


def read_number(text: str) -> float:
    """A signed number as somebody wrote it: 12, -0.3, +0,25.

    A comma is a decimal sign, but 1,250 can be read in two ways and is refused.

    Parameters:
        text [text]: the number alone.

    Returns:
        [mm] the number, to a millionth; 0 has no sign.

    Raises:
        Refusal: `no_number` where it is none, or can be read in two ways.

    Source: the house's own rule.
    """
    text = text.strip()
    if not _NUMBER.fullmatch(text):
        raise Refusal("no_number", f"{text!r} is no number; write it like 12.5 or -0.3.", text=text)
    return round(float(text.replace(",", ".").replace("−", "-")), DIGITS) + 0.0


def write_number(number: float) -> str:
    """The shortest text of a number, with a point and without an exponent.

    Parameters:
        number [mm]: to a millionth.

    Returns:
        [text] what `read_number` reads back.

    Raises:
        Refusal: `no_number` where it is not finite or longer than nine digits before the point.

    Source: the house's own rule.
    """
    if not abs(number) <= MOST:
        raise Refusal("no_number", f"{number} is no number from -{MOST:.0f} to {MOST:.0f}.", text=str(number))
    text = f"{Decimal(repr(round(number, DIGITS) + 0.0)):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
