"""How wide a text is on paper, and how it is made to fit. Sizes are those of the letters' em, in mm.

The cuts of the font have neither kerning nor ligatures, so that the widths of its letters are all there is to know:
what is measured here is what is drawn.
"""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FONTS = Path(__file__).resolve().parent / "fonts"
PLAIN, HALF, BOLD = 400, 600, 700
FILES = {PLAIN: "shop-paper-plain.woff2", HALF: "shop-paper-half.woff2", BOLD: "shop-paper-bold.woff2"}
# How tall a capital is, of the em
CAPITAL = 0.7
# A letter that the font lacks is drawn with one of the machine's own: hardly ever wider than it is tall, a picture
# somewhat, and two dashes by their names.
_STRANGE, _PICTURE = 1.0, 1.3
_DASHES = {"\N{TWO-EM DASH}": 2.0, "\N{THREE-EM DASH}": 3.0}
# Tried one after the other, in mm
_STEP = 0.05


@dataclass(frozen=True, slots=True)
class Fitted:
    """A text as it goes into its room: how large, and line by line."""

    size: float
    lines: tuple[str, ...]


def width(text: str, size: float, weight: int = PLAIN) -> float:
    """What a text takes on one line."""
    widths = _widths(weight)
    return size * sum(widths[letter] if letter in widths else _strange(letter) for letter in text)


def wrapped(text: str, wide: float, size: float, weight: int = PLAIN) -> list[str]:
    """Its lines where they may be so wide; a word that is wider than a line is cut where the line ends."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width(longer, size, weight) <= wide:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = pieces(word, wide, size, weight)
        lines += whole
    return [*lines, line] if line else lines


def fitted(
    text: str, wide: float, *, largest: float, smallest: float, weight: int = PLAIN, lines: int = 1
) -> Fitted | None:
    """The text as large as it fits on so many lines, or None; a word is cut only where the smallest is too wide."""
    size = largest
    while size >= smallest - _STEP / 2:
        tried = wrapped(text, wide, size, weight)
        uncut = all(width(word, size, weight) <= wide for word in text.split())
        if len(tried) <= lines and (uncut or size - _STEP < smallest - _STEP / 2):
            return Fitted(round(size, 2), tuple(tried))
        size -= _STEP
    return None


def pieces(word: str, wide: float, size: float, weight: int = PLAIN) -> list[str]:
    """A word cut into pieces that fit, each of one letter at least."""
    cut, taken = [""], 0.0
    for letter in word:
        long = width(letter, size, weight)
        if cut[-1] and taken + long > wide:
            cut.append("")
            taken = 0.0
        cut[-1] += letter
        taken += long
    return cut


def _strange(letter: str) -> float:
    return _DASHES.get(letter) or (_PICTURE if unicodedata.category(letter) == "So" else _STRANGE)


@cache
def _widths(weight: int) -> Mapping[str, float]:
    """Of each letter of the font, in parts of the em."""
    from fontTools.ttLib import TTFont

    with TTFont(FONTS / FILES[weight]) as font:
        metrics, em = font["hmtx"].metrics, font["head"].unitsPerEm
        return {chr(code): metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}
