"""The shop's hours as a person types and reads them: a day, and a week as one text."""

import re
from itertools import groupby

from django.utils.translation import gettext as _

from tooling.models.shop_hours import SHORT, Windows

_TIME = r"([0-9]{1,2})(?:[:.]([0-9]{2}))?"
_TYPED = re.compile(rf"{_TIME}\s*(?:-|–|to|until)\s*{_TIME}", re.IGNORECASE)


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
    """The hours that somebody typed for a day, in order. Raises ValueError with a sentence that says what to write.

    Whether they can be, beside those of the other days, says `check_days`.
    """
    return tuple(sorted(_window(piece.strip()) for piece in re.split(r"[,;]", text) if piece.strip()))


def _window(piece: str) -> tuple[str, str]:
    match = _TYPED.fullmatch(piece)
    if match is None:
        raise ValueError(_("“%(text)s” is no hours. Write them as 08:00-17:00.") % {"text": piece[:40]})
    hours = [int(match[1]), int(match[3])]
    minutes = [int(match[2] or 0), int(match[4] or 0)]
    begin, end = (f"{hour:02}:{minute:02}" for hour, minute in zip(hours, minutes, strict=True))
    if max(minutes) > 59 or max(begin, end) > "24:00":
        raise ValueError(_("“%(text)s” is no hours of a day, which ends at 24:00.") % {"text": piece[:40]})
    return begin, end
