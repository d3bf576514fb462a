"""Words of two weights in one line, measured and broken into lines; sizes are those of the letters' em, in mm."""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from itertools import groupby, pairwise

from shared.paper.letters import PLAIN, pieces, width

# From one line to the next, of the em
LEADING = 1.24
MORE = "…"
# Between pieces of one line; where a line ends there it goes without saying.
BETWEEN = "·"
# What a line keeps free, of its width: a printer's driver may place a letter a hair beside its place.
_SPARE = 0.995

# Controls, halves of letters, and what says how to write; but signs that make one of several letters stay.
_SHAPELESS, _JOINERS = ("Cc", "Cs", "Cf"), "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"

Word = tuple[str, int]
Row = tuple[Word, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """Words in their lines, at one size; `cut`: not all of them."""

    size: float
    rows: tuple[Row, ...]
    cut: bool = False
    leading: float = LEADING

    @property
    def high(self) -> float:
        """What its lines take."""
        return len(self.rows) * self.size * self.leading

    @property
    def wide(self) -> float:
        """Its widest line."""
        return max((_row_width(row, self.size) for row in self.rows), default=0)

    @property
    def look(self) -> str:
        """How its box is written in."""
        heavy = f";font-weight:{self._weight}" if self._weight != PLAIN else ""
        return f"font-size:{self.size:.2f}mm;line-height:{self.leading:g}{heavy}"

    def html(self) -> str:
        """It as it goes into its box: a line ends where it was worked out, and nowhere else."""
        return "<br>".join(_row_html(row, self._weight) for row in self.rows)

    @property
    def _weight(self) -> int:
        """That of all its words, or the plain one among which others stand out."""
        weights = {weight for row in self.rows for _word, weight in row}
        return weights.pop() if len(weights) == 1 else PLAIN


def words_of(*runs: tuple[str, int]) -> list[Word]:
    """The words of some runs, each with its weight; a blank that binds stays within its word."""
    return [(word, weight) for text, weight in runs for word in tidy(text).split(" ") if word]


@lru_cache(maxsize=1024)
def tidy(text: str) -> str:
    """A text without what has no shape on paper or turns its letters about, its accents on them, one blank a gap."""
    text = re.sub(r"[^\S\N{NO-BREAK SPACE}]+", " ", unicodedata.normalize("NFC", text)).strip()
    return "".join(letter for letter in text if letter in _JOINERS or unicodedata.category(letter) not in _SHAPELESS)


def fit(words: Sequence[Word], wide: float, size: float, *, most: int | None = None) -> Text:
    """The words at that size; of more than `most` lines the rest is cut, and the last ends in a sign for it."""
    rows = list(_rows(words, wide * _SPARE, size))
    if most is None or len(rows) <= most:
        return Text(size, tuple(rows))
    last = [word for row in rows[most - 1 :] for word in row]
    return Text(size, (*rows[: most - 1], _ended(last, wide * _SPARE, size)), cut=True)


def plain(text: str, wide: float, size: float, weight: int = PLAIN, *, most: int | None = None) -> Text:
    """A text of one weight."""
    return fit(words_of((text, weight)), wide, size, most=most)


def balanced(text: str, wide: float, sizes: Iterable[float], weight: int = PLAIN) -> Text:
    """A text on the fewest lines that one of the sizes gives it, as large as that allows, its lines about even."""
    tried = [plain(text, wide, size, weight) for size in sizes]
    best = min(tried, key=lambda one: (len(one.rows), -one.size))
    narrow = wide
    while len(best.rows) > 1 and narrow > wide / 2:
        narrow -= wide / 50
        even = plain(text, narrow, best.size, weight)
        if len(even.rows) > len(best.rows):
            break
        best = even
    return best


def _rows(words: Iterable[Word], wide: float, size: float) -> Iterable[Row]:
    row: list[Word] = []
    taken = 0.0
    for word, weight in words:
        for piece in _pieces(word, weight, wide, size):
            long = _width(piece, weight) * size
            blank = _blank(row[-1][1], weight) * size if row else 0.0
            if row and taken + blank + long > wide:
                yield tuple(row[:-1] if row[-1][0] == BETWEEN else row)
                row, taken, blank = [], 0.0, 0.0
                if piece == BETWEEN:
                    continue
            row.append((piece, weight))
            taken += blank + long
    if row:
        yield tuple(row)


def _pieces(word: str, weight: int, wide: float, size: float) -> Iterable[str]:
    """The word, or where it is wider than a line, what has room on each."""
    return (word,) if _width(word, weight) * size <= wide else pieces(word, wide, size, weight)


def _ended(words: list[Word], wide: float, size: float) -> Row:
    """As many of the words, and letters of them, as have room with the sign that there is more behind them."""
    row: list[Word] = []
    for word, weight in words:
        if _row_width((*row, (word + MORE, weight)), size) > wide:
            break
        row.append((word, weight))
    else:
        return tuple(row)
    word = word[: int(wide / size / _width("i", weight)) + 1]  # more of the thinnest letters would not fit
    while word and _row_width((*row, (word + MORE, weight)), size) > wide:
        word = word[:-1]
    if word or not row:
        return (*row, (word + MORE, weight))
    return (*row[:-1], (row[-1][0] + MORE, row[-1][1]))


def _row_width(row: Sequence[Word], size: float) -> float:
    blanks = sum(_blank(one, other) for (_word, one), (_next, other) in pairwise(row))
    return size * (blanks + sum(_width(word, weight) for word, weight in row))


def _blank(before: int, after: int) -> float:
    """Between words of two weights stands the blank of the lighter."""
    return _width(" ", min(before, after))


@lru_cache(maxsize=4096)
def _width(text: str, weight: int) -> float:
    return width(text, 1, weight)


def _row_html(row: Row, only: int) -> str:
    said = []
    for weight, words in groupby(row, key=lambda word: word[1]):
        text = escape(" ".join(word for word, _weight in words), quote=False)
        said.append(text if weight in (only, PLAIN) else f"<b>{text}</b>")
    return " ".join(said)
