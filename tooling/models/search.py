"""What a tool is found by: one row of folded words."""

import re
import unicodedata
from itertools import pairwise

from django.db import models

# What a phone or an office program makes of the plain signs of a keyboard.
_PLAIN = str.maketrans(
    {
        **dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u2035\u02bc\u02b9\u00b4\u0060\uff07", "'"),
        **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u2036\u02ba\u00ab\u00bb\u2039\u203a\uff02", '"'),
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2043\ufe58\ufe63\uff0d", "-"),
        **dict.fromkeys("\u2044\u2215", "/"),
        "\u2026": " ", "\u00d7": "x", "\u00ad": "", "\u200b": "", "\u200d": "", "\u2060": "", "\ufeff": "",
    }
)  # fmt: skip
# 3⅛ is 3 1/8, not 31/8.
_FRACTION = re.compile(r"(?<=\d)(?=[\u00bc-\u00be\u2150-\u215e])")
# Letters that no decomposition takes an accent off
_NO_ACCENT = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
_SIGNS = ",;:!?()[]\"'"
_NEXT = "\u00b7"
_RUN = re.compile(r"[^\W_]+")


def fold(text: str) -> str:
    """Letters as they are compared: without case and accents, with the signs of a keyboard, in single spaces."""
    # First the signs: taken apart, an accent that stands alone is a space with an accent.
    text = _FRACTION.sub(" ", text.casefold().translate(_PLAIN))
    bare = unicodedata.normalize("NFKD", text).translate(_PLAIN)
    bare = "".join(letter for letter in bare if not unicodedata.combining(letter)).translate(_NO_ACCENT)
    return " ".join(bare.replace("\x00", " ").split())


def alike(folded: str) -> str:
    """The same for two spellings that differ only in 0 and O."""
    return folded.replace("o", "0")


def split(text: str) -> list[str]:
    """The folded words of a text, without the signs of sentences around them."""
    stripped = (word.strip(_SIGNS) for word in fold(text).split())
    return [word for word in stripped if word]


def words_of(*texts: str) -> set[str]:
    """The folded words of texts, and the runs of letters and digits in them: DECK-2A is also found by its 2A."""
    words = set(split(" ".join(texts)))
    return words | {run for word in words for run in _RUN.findall(word)}


def together(word: str, following: str) -> str:
    """What says that a word stands before another one, of which the first letter is kept."""
    return f"{word}{_NEXT}{following[0]}"


def pairs_of(text: str) -> set[str]:
    """Which words of a name stand together: “rack b” is Rack B, and no rack whose tools have a bow."""
    words = split(text)
    return {together(*pair) for pair in pairwise(words)}


def is_pair(word: str) -> bool:
    """Whether it is one of those, and no word that anybody wrote."""
    return _NEXT in word


def packed(words: set[str]) -> str:
    """Words as they are stored. Two spaces begin each, so that even one letter has a trigram of its own."""
    return "".join(f"  {word}" for word in sorted(words))


class SearchText(models.Model):
    """Every word that a tool is found by. `codes` are those of codes and part numbers, 0 for O."""

    tool = models.OneToOneField("Tool", models.CASCADE, primary_key=True, related_name="search_text")
    text = models.TextField(blank=True, default="")
    codes = models.TextField(blank=True, default="")

    def __str__(self) -> str:
        return str(self.tool)
