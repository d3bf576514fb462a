"""The shop's hours: a week as one text, as the sheet has it, and as seven days, as a person types it."""

import re
from itertools import groupby, pairwise

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

# As the sheet spells them, Monday first, and as a page does.
SHORT = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG = (
    gettext_lazy("Monday"), gettext_lazy("Tuesday"), gettext_lazy("Wednesday"), gettext_lazy("Thursday"),
    gettext_lazy("Friday"), gettext_lazy("Saturday"), gettext_lazy("Sunday"),
)  # fmt: skip
# Of one day: from and until, as 08:00
Windows = tuple[tuple[str, str], ...]

_STORED = re.compile(r"([a-z]{3})(?:\s*-\s*([a-z]{3}))?\s+([0-9:]+)\s*-\s*([0-9:]+)", re.IGNORECASE)
_TIME = r"([0-9]{1,2})(?:[:.]([0-9]{2}))?"
_TYPED = re.compile(rf"{_TIME}\s*(?:-|–|to|until)\s*{_TIME}", re.IGNORECASE)


def to_days(text: str) -> tuple[Windows, ...]:
    """The seven days of a text that was checked when it was stored."""
    days: list[list[tuple[str, str]]] = [[] for _day in SHORT]
    for first, last, begin, end in (match.groups() for match in _STORED.finditer(text)):
        start = SHORT.index(first.capitalize())
        stop = SHORT.index((last or first).capitalize())
        for place in range(start, stop + 1 if stop >= start else stop + 8):
            days[place % 7].append((begin.zfill(5), end.zfill(5)))
    return tuple(tuple(sorted(day)) for day in days)


def to_text(days: tuple[Windows, ...]) -> str:
    """Mon-Thu 07:00-16:00, Fri 07:00-12:00"""
    said = []
    for windows, group in groupby(range(7), key=lambda place: days[place]):
        places = list(group)
        first, last = SHORT[places[0]], SHORT[places[-1]]
        named = first if first == last else f"{first}-{last}"
        said += [f"{named} {begin}-{end}" for begin, end in windows]
    return ", ".join(said)


def day_text(windows: Windows) -> str:
    """07:00-12:00, 12:30-16:00"""
    return ", ".join(f"{begin}-{end}" for begin, end in windows)


def read_day(text: str) -> Windows:
    """The hours that somebody typed for a day. Raises ValueError with a sentence that says what to write instead."""
    pieces = [piece.strip() for piece in re.split(r"[,;]", text) if piece.strip()]
    windows = sorted(_window(piece) for piece in pieces)
    for (_begin, end), (begin, _end) in pairwise(windows):
        if begin < end:
            raise ValueError(_("Two of these hours overlap."))
    return tuple(windows)


def _window(piece: str) -> tuple[str, str]:
    match = _TYPED.fullmatch(piece)
    if match is None:
        raise ValueError(_("“%(text)s” is no hours. Write them as 08:00-17:00.") % {"text": piece[:40]})
    hours = [int(match[1]), int(match[3])]
    minutes = [int(match[2] or 0), int(match[4] or 0)]
    begin, end = (f"{hour:02}:{minute:02}" for hour, minute in zip(hours, minutes, strict=True))
    if max(minutes) > 59 or begin > "23:59" or end > "24:00":
        raise ValueError(_("“%(text)s” is no hours of a day, which ends at 24:00.") % {"text": piece[:40]})
    if begin >= end:
        raise ValueError(_("It closes after it opens. A night over midnight goes on in the next day, from 00:00."))
    return begin, end
