"""The shop's hours as windows on the time line: by local date, across clock changes, joined where they touch."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from tooling.calc.state import instant, micros

# Within so many days from where it is asked a plan has to find its place: a year, and the weeks closed around it.
HORIZON_DAYS = 400

MINUTE = 60_000_000
DAY = 24 * 60 * MINUTE
HORIZON = HORIZON_DAYS * DAY

_DAY_MINUTES = 24 * 60
_EPOCH = date(1970, 1, 1).toordinal()
# The days that have a neighbour in every time zone: nothing is laid out at the ends of the calendar.
_FIRST_DAY, _LAST_DAY = date.min.toordinal() + 3, date.max.toordinal() - 3
_TIME = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)|(24):(00)")
_FIRST_LOOK = 8 * DAY


class Infeasible(ValueError):
    """No plan is possible; says why in a sentence. `code` never changes.

    `step` names the work that does not fit, `surface` that on which it is; "" where it is no single one.
    """

    def __init__(self, code: str, sentence: str, step: str = "", surface: str = "") -> None:
        super().__init__(sentence)
        self.code = code
        self.step = step
        self.surface = surface


@dataclass(frozen=True)
class ShopHours:
    """When hands are at work.

    `week` has windows of ("08:00", "17:00") for 0 = Monday to 6; a window that ends at or before its beginning crosses
    midnight, and belongs to the date on which it opens. On dates in `closed` none opens. A time that the clock leaps
    over is the leap itself; of one that comes twice the first counts.
    """

    time_zone: str | tzinfo
    week: Mapping[int, Sequence[tuple[str, str]]]
    closed: Sequence[date] = ()
    windows: "Windows" = field(init=False, repr=False, compare=False)
    # What was worked out with these hours, by all that it was worked out from.
    known: dict[Any, Any] = field(init=False, repr=False, compare=False, default_factory=dict)

    def __post_init__(self) -> None:
        week = [[_minutes(one) for one in self.week.get(day, ())] for day in range(7)]
        if strange := [day for day in self.week if day not in range(7)]:
            raise ValueError(f"{strange[0]} is no day of a week: it goes from 0 (Monday) to 6.")
        object.__setattr__(self, "windows", Windows(_zone(self.time_zone), week, frozenset(self.closed)))

    def open_from(self, at: datetime) -> datetime:
        """The first moment from `at` on at which the shop is open. Raises Infeasible where that is never."""
        found = self.windows.earliest(micros(at), 1)
        if found is None:
            raise Infeasible("no_hours", f"The shop has no hours within {HORIZON_DAYS} days.")
        return instant(found)

    def open_until(self, at: datetime) -> datetime:
        """The last moment up to `at` until which the shop is open. Raises Infeasible where that was never."""
        found = self.windows.latest(micros(at), 1)
        if found is None:
            raise Infeasible("no_hours", f"The shop had no hours within {HORIZON_DAYS} days.")
        return instant(found)

    def open_between(self, begin: datetime, end: datetime) -> list[tuple[datetime, datetime]]:
        """When the shop is open between two moments: each window, as far as it lies between them."""
        return [(instant(open_), instant(close)) for open_, close in self.windows.between(micros(begin), micros(end))]


class Windows:
    """The windows of some hours in microseconds since 1970 UTC, laid out as far as somebody has asked."""

    def __init__(self, zone: tzinfo, week: list[list[tuple[int, int]]], closed: frozenset[date]) -> None:
        """Takes the windows of each weekday as minutes since its midnight, those of the next day above 1440."""
        self._zone, self._week, self._closed = zone, week, closed
        self._days: tuple[int, int] | None = None
        self._opens: list[int] = []
        self._closes: list[int] = []

    def earliest(self, begin: int, work: int) -> int | None:
        """The first start from `begin` on whose work lies wholly inside one window; None within the horizon."""
        reach = begin + _FIRST_LOOK
        while True:
            self._cover(begin, reach)
            for place in range(bisect_right(self._closes, begin), len(self._closes)):
                start = max(begin, self._opens[place])
                if start + work <= self._closes[place]:
                    return start if start <= begin + HORIZON else None
            if reach > begin + HORIZON:
                return None
            reach += reach - begin

    def latest(self, end: int, work: int) -> int | None:
        """The last end up to `end` whose work lies wholly inside one window; None within the horizon."""
        reach = end - _FIRST_LOOK
        while True:
            self._cover(reach, end)
            for place in range(bisect_left(self._opens, end) - 1, -1, -1):
                close = min(end, self._closes[place])
                if close - work >= self._opens[place]:
                    return close if close >= end - HORIZON else None
            if reach < end - HORIZON:
                return None
            reach -= end - reach

    def longest(self, begin: int, end: int) -> int:
        """The longest window that lies between the two, as far as it does; 0 where there is none."""
        return max((close - open_ for open_, close in self.between(begin, end)), default=0)

    def between(self, begin: int, end: int) -> list[tuple[int, int]]:
        """The windows that lie between the two, each as far as it does."""
        self._cover(begin, end)
        places = range(bisect_right(self._closes, begin), bisect_left(self._opens, end))
        return [(max(begin, self._opens[place]), min(end, self._closes[place])) for place in places]

    def days_before(self, at: int, days: int) -> int:
        """The beginning of the local day that is so many days before that of a moment."""
        ordinal = instant(at).astimezone(self._zone).toordinal() - days
        return self._at(date.fromordinal(_in_calendar(ordinal)), 0)

    def _cover(self, begin: int, end: int) -> None:
        # Two days more on either side: the local date may be another, and a window of the day before may still be open.
        first, last = (_in_calendar(_EPOCH + at // DAY + more) for at, more in ((begin, -2), (end, 2)))
        if self._days is not None:
            if self._days[0] <= first and last <= self._days[1]:
                return
            # Who asks for another time altogether does not want all that lies between.
            if first - HORIZON_DAYS <= self._days[1] and self._days[0] <= last + HORIZON_DAYS:
                first, last = self._further(first, last, *self._days)
        self._days = first, last
        self._opens, self._closes = [], []
        for open_, close in sorted(self._between(first, last)):
            if self._closes and open_ <= self._closes[-1]:
                self._closes[-1] = max(close, self._closes[-1])
            else:
                self._opens.append(open_)
                self._closes.append(close)

    @staticmethod
    def _further(first: int, last: int, known_first: int, known_last: int) -> tuple[int, int]:
        """Both, and as many days again as are known: who asks day after day has few of them laid out anew."""
        more = known_last - known_first
        return (
            min(first, _in_calendar(known_first - more)) if first < known_first else known_first,
            max(last, _in_calendar(known_last + more)) if last > known_last else known_last,
        )

    def _between(self, first: int, last: int) -> list[tuple[int, int]]:
        found = []
        for ordinal in range(first, last + 1):
            day = date.fromordinal(ordinal)
            if day in self._closed:
                continue
            for begin, end in self._week[day.weekday()]:
                open_, close = self._at(day, begin), self._at(day, end)
                if open_ < close:
                    found.append((open_, close))
        return found

    def _at(self, day: date, minutes: int) -> int:
        days, minutes = divmod(minutes, _DAY_MINUTES)
        wall = datetime.combine(day + timedelta(days=days), time(minutes // 60, minutes % 60))
        local = wall.replace(tzinfo=self._zone)
        at = local.astimezone(UTC)
        if at.astimezone(self._zone).replace(tzinfo=None) == wall:
            return micros(at)
        return self._leap(micros(local.replace(fold=1).astimezone(UTC)), micros(at))

    def _leap(self, before: int, after: int) -> int:
        """The instant between the two at which the clock is put forward."""
        earlier = instant(before).astimezone(self._zone).utcoffset()
        while after - before > 1:
            middle = (before + after) // 2
            if instant(middle).astimezone(self._zone).utcoffset() == earlier:
                before = middle
            else:
                after = middle
        return after


def _in_calendar(ordinal: int) -> int:
    return min(max(ordinal, _FIRST_DAY), _LAST_DAY)


def _zone(given: str | tzinfo) -> tzinfo:
    if isinstance(given, tzinfo):
        return given
    try:
        return ZoneInfo(given)
    except (ZoneInfoNotFoundError, ValueError, OSError) as bad:
        raise ValueError(f"{given!r} is no time zone. Write one as Europe/Berlin or America/New_York.") from bad


def _minutes(window: tuple[str, str]) -> tuple[int, int]:
    begin, end = (_minute(text) for text in window)
    if begin in (end, _DAY_MINUTES):
        raise ValueError(f"{window[0]}-{window[1]} is no shop hours: it has to open before it closes.")
    return begin, end if end > begin else end + _DAY_MINUTES


def _minute(text: str) -> int:
    match = _TIME.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is no time of day: it goes from 00:00 to 24:00.")
    hour, minute = match[1] or match[3], match[2] or match[4]
    return int(hour) * 60 + int(minute)
