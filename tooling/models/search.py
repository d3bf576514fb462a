"""What a tool is found by: one row of folded words."""

import re
import unicodedata

from django.db import models

# Letters that no decomposition takes an accent off
_NO_ACCENT = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
_SIGNS = ",;:!?()[]\"'“”„‘’«»…"
_RUN = re.compile(r"[^\W_]+")


def fold(text: str) -> str:
    """Letters as they are compared: without case and accents, in single spaces."""
    bare = unicodedata.normalize("NFKD", text.casefold())
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
