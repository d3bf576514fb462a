"""Days and numbers as people write them by hand: 31 Oct 2026, October 2026, ca. 4, ~60, IIII."""

import re
from dataclasses import dataclass
from datetime import date

from django.utils.dates import MONTHS
from django.utils.translation import override

_SHORTEST_MONTH = 3
_MONTH = r"(?P<month>[^\W\d_]{3,})\.?"
_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?"
_YEAR = r"(?P<year>\d{4}|'?\d{2})"
_DAYS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (rf"{_DAY}[ -]+(?:of )?{_MONTH},?[ -]+{_YEAR}", rf"{_MONTH} +{_DAY},? +{_YEAR}")
)
_MONTH_OF_A_YEAR = re.compile(rf"{_MONTH},? +(?P<year>\d{{4}})", re.IGNORECASE)
_ABOUT = re.compile(
    r"(?:~|≈|ca\.?|c\.|circa|about|around|approx\.?|approximately)\s*(?P<before>\S.*)|(?P<behind>.*\d)\s*\?",
    re.IGNORECASE,
)
_STROKES = re.compile(r"[I|]+(?: +[I|]+)*")


@dataclass(frozen=True, slots=True)
class Number:
    """A number as text; `is_about`: whoever wrote it was not sure of it."""

    text: str
    is_about: bool = False


def day_in_words(text: str) -> date | None:
    """31 Oct 2026 and Sep 12, 2026. Raises ValueError for a 31 June."""
    for pattern in _DAYS:
        found = pattern.fullmatch(text)
        month = _month(found["month"]) if found else 0
        if found and month:
            return date(full_year(found["year"].lstrip("'")), month, int(found["day"]))
    return None


def is_month(text: str) -> bool:
    """Whether this is a month of a year, whose day nobody wrote down."""
    found = _MONTH_OF_A_YEAR.fullmatch(text)
    return found is not None and _month(found["month"]) > 0


def full_year(text: str) -> int:
    """The year that two digits mean."""
    return int(text) if len(text) == 4 else int(text) + (2000 if int(text) < 50 else 1900)


def number(text: str, *, is_count: bool) -> Number:
    """What is left of a number without its “about”; the strokes of a tally, where something is counted."""
    found = _ABOUT.fullmatch(text)
    if found:
        return Number(found["before"] or found["behind"], is_about=True)
    if is_count and _STROKES.fullmatch(text):
        return Number(str(len(text.replace(" ", ""))))
    return Number(text)


def _month(word: str) -> int:
    """Which month a word or its beginning is, in English or in the language of the shop; 0 for none."""
    word = word.casefold()
    if word == "sept":
        return 9
    names = [(number, str(name).casefold()) for number, name in MONTHS.items()]
    with override("en"):
        names += [(number, str(name).casefold()) for number, name in MONTHS.items()]
    return next((number for number, name in names if len(word) >= _SHORTEST_MONTH and name.startswith(word)), 0)
