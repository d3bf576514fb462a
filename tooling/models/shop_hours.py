"""The shop's hours and closed days: how they are written as one text, and which cannot be."""

import re
from collections.abc import Collection, Sequence
from datetime import date
from itertools import pairwise

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

# As the sheet spells them, Monday first, and as a page does.
SHORT = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG = (
    gettext_lazy("Monday"), gettext_lazy("Tuesday"), gettext_lazy("Wednesday"), gettext_lazy("Thursday"),
    gettext_lazy("Friday"), gettext_lazy("Saturday"), gettext_lazy("Sunday"),
)  # fmt: skip
# Of one day: from and until, as 08:00. One that ends before it begins ends on the next day.
Windows = tuple[tuple[str, str], ...]

# Longer than this over midnight, two times have been swapped; a longer night is written as two windows.
MOST_NIGHT_HOURS = 12
MOST_CLOSED, MOST_SHUT = 2000, 366  # days in all, and without opening once
_YEARS = range(2000, 2101)

_DAYS = "|".join(SHORT)
_TIME = r"([01]?\d|2[0-3]):[0-5]\d|24:00"
_WINDOW = re.compile(rf"({_DAYS})(?:\s*-\s*({_DAYS}))?\s+((?:{_TIME}))\s*-\s*((?:{_TIME}))", re.IGNORECASE)
_DAY = 24 * 60


class ImpossibleHours(ValueError):
    """Hours that cannot be, with a sentence that says what to change; `day`: on which day, 0 for Monday."""

    def __init__(self, day: int, sentence: str) -> None:
        super().__init__(sentence)
        self.day = day


def to_days(text: str) -> tuple[Windows, ...]:
    """The seven days of a text that was checked when it was stored."""
    days: list[list[tuple[str, str]]] = [[] for _day in SHORT]
    for match in _WINDOW.finditer(text):
        first, last, begin, end = match[1], match[2], match[3], match[5]
        start = SHORT.index(first.capitalize())
        stop = SHORT.index((last or first).capitalize())
        for place in range(start, stop + 1 if stop >= start else stop + 8):
            days[place % 7].append((begin.zfill(5), end.zfill(5)))
    return tuple(tuple(sorted(day)) for day in days)


def days_of(text: str) -> list[date]:
    """The closed days of a text that was checked when it was stored, in order, each once."""
    return sorted({date.fromisoformat(day.strip()) for day in text.split(",") if day.strip()})


def check_days(days: Sequence[Windows]) -> None:
    """Refuses hours without a length, a night that is none, and hours that overlap. Raises ImpossibleHours."""
    spans = []
    for day, windows in enumerate(days):
        for begin, end in windows:
            length = _length(day, begin, end)
            opens = day * _DAY + _minutes(begin)
            spans.append((opens, opens + length, day, f"{LONG[day]} {begin}-{end}"))
    # The night from Sunday goes on before the first hours of Monday.
    round_again = [(opens + 7 * _DAY, closes, day, said) for opens, closes, day, said in spans[:1]]
    for (_opens, closes, _one, before), (opens, _closes, day, after) in pairwise([*spans, *round_again]):
        if opens < closes and len(spans) > 1:
            text = _("%(before)s and %(after)s overlap. Let the one end before the other begins, or write them as one.")
            raise ImpossibleHours(day, text % {"before": before, "after": after})


def _length(day: int, begin: str, end: str) -> int:
    said = {"hours": f"{begin}-{end}", "begin": begin, "end": end, "most": MOST_NIGHT_HOURS}
    if begin == "24:00":
        raise ImpossibleHours(day, _("“%(hours)s” is no hours: a day ends at 24:00. Begin it at 00:00.") % said)
    if begin == end:
        text = _("“%(hours)s” is no hours: it opens and closes at once. Say when it closes; all day is 00:00-24:00.")
        raise ImpossibleHours(day, text % said)
    length = (_minutes(end) - _minutes(begin)) % _DAY or _DAY
    if end < begin and length > MOST_NIGHT_HOURS * 60:
        text = _(
            "“%(hours)s” closes before it opens. Over midnight go at most %(most)d hours; write a longer night as"
            " %(begin)s-24:00, and 00:00-%(end)s on the next day."
        )
        raise ImpossibleHours(day, text % said)
    return length


def _minutes(text: str) -> int:
    hour, minute = text.split(":")
    return int(hour) * 60 + int(minute)


def check_week(text: str) -> None:
    """Refuse shop hours that are not windows of days and times, such as Mon-Fri 08:00-17:00, or that cannot be."""
    pieces = [piece.strip() for piece in re.split(r"[,;]", text) if piece.strip()]
    for window in pieces:
        if not _WINDOW.fullmatch(window):
            message = _("“%(window)s” is no shop hours. Write them as Mon-Thu 07:00-16:00, Fri 07:00-12:00.")
            raise ValidationError(message % {"window": window}, code="week")
    if text.strip() and not pieces:
        raise ValidationError(_("A week without any hours. Write them as Mon-Fri 08:00-17:00."), code="week")
    try:
        check_days(to_days(text))
    except ImpossibleHours as wrong:
        raise ValidationError(str(wrong), code="week") from wrong


def check_closed_days(text: str) -> None:
    """Refuse what is not a list of ISO dates, and more of them, or others, than a shop plans with."""
    days = []
    for day in filter(None, (piece.strip() for piece in text.split(","))):
        try:
            days.append(date.fromisoformat(day))
        except ValueError as bad:
            message = _("“%(day)s” is no date. Write days as 2026-12-24, with commas between.") % {"day": day}
            raise ValidationError(message, code="closed_days") from bad
    if far := [day for day in days if day.year not in _YEARS]:
        message = _("%(day)s is no day that a shop plans with. Write one between %(first)d and %(last)d.")
        said = {"day": far[0].isoformat(), "first": _YEARS[0], "last": _YEARS[-1]}
        raise ValidationError(message % said, code="closed_days")
    if len(set(days)) > MOST_CLOSED:
        message = _("Take out old days first: at most %(n)d are kept.") % {"n": MOST_CLOSED}
        raise ValidationError(message, code="closed_days")


def check_ever_open(days: Sequence[Windows], closed: Collection[date]) -> None:
    """Refuse closed days between which the shop does not open once in over a year. Without hours all days count."""
    opens = [bool(windows) for windows in days] if any(days) else [True] * 7
    since = before = None
    for day in sorted(closed):
        if since is None or before is None or _opens_between(before, day, opens):
            since = day
        if (day - since).days > MOST_SHUT:
            message = _("From %(first)s to %(last)s the shop would not open once. Take days out on which it does.")
            said = {"first": since.isoformat(), "last": day.isoformat()}
            raise ValidationError(message % said, code="closed_days")
        before = day


def _opens_between(one: date, other: date, opens: Sequence[bool]) -> bool:
    between = range(one.toordinal() + 1, other.toordinal())
    return any(opens[date.fromordinal(ordinal).weekday()] for ordinal in between[:7])
