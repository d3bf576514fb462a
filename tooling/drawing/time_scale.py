"""The scale of a time bar: open hours in proportion, closed ones shortened; and which hours and days stand below it."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta, tzinfo
from itertools import accumulate, pairwise
from typing import NamedTuple

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _

# No closed stretch is longer than so much of all that is open, nor all of them together.
ONE_GAP, ALL_GAPS = 0.08, 0.33
# What hours are told apart by [min], the finest that has room.
STEPS = (15, 30, 60, 120, 180, 240, 360, 720)


class Span(NamedTuple):
    """From one moment to another."""

    begin: datetime
    end: datetime

    @property
    def seconds(self) -> float:
        """How long it is."""
        return (self.end - self.begin).total_seconds()


@dataclass(frozen=True)
class Scale:
    """From `begin` to `end`. `windows`: the shop's open hours, in order, as far as is known; `zone`: its clock."""

    begin: datetime
    end: datetime
    windows: Sequence[Span]
    zone: tzinfo
    open: tuple[Span, ...] = field(init=False)
    _pieces: tuple[tuple[Span, float], ...] = field(init=False, repr=False)
    _begins: tuple[datetime, ...] = field(init=False, repr=False)
    _before: tuple[float, ...] = field(init=False, repr=False)  # how much is drawn before each piece, and all of it

    def __post_init__(self) -> None:
        cut = (Span(max(one.begin, self.begin), min(one.end, self.end)) for one in self.windows)
        windows = tuple(one for one in cut if one.begin < one.end)
        object.__setattr__(self, "open", windows)
        pieces = tuple(self._weighed(windows))
        object.__setattr__(self, "_pieces", pieces)
        object.__setattr__(self, "_begins", tuple(span.begin for span, _weight in pieces))
        object.__setattr__(self, "_before", tuple(accumulate((weight for _span, weight in pieces), initial=0.0)))

    @property
    def closed(self) -> bool:
        """Whether the shop is closed at any time of it."""
        return any(one.seconds for one in self._gaps(self.open))

    def share(self, at: datetime) -> float:
        """How much of the bar lies before a moment: 0 to 1, never less for a later one."""
        place = bisect_right(self._begins, at) - 1
        if place < 0 or not self._before[-1]:
            return 0.0
        span, weight = self._pieces[place]
        inside = weight * min(1.0, (at - span.begin).total_seconds() / span.seconds)
        return (self._before[place] + inside) / self._before[-1]

    def _weighed(self, windows: tuple[Span, ...]) -> Iterator[tuple[Span, float]]:
        """Every stretch in order, and how long it is drawn."""
        gaps = [one for one in self._gaps(windows) if one.seconds]
        total = sum(one.seconds for one in windows)
        most = total * min(ONE_GAP, ALL_GAPS / len(gaps)) if total and gaps else float("inf")
        weighed = [*((span, span.seconds) for span in windows), *((span, min(span.seconds, most)) for span in gaps)]
        yield from sorted(weighed)

    def _gaps(self, windows: tuple[Span, ...]) -> Iterator[Span]:
        at = self.begin
        for one in windows:
            yield Span(at, one.begin)
            at = one.end
        yield Span(at, self.end)


def hours(scale: Scale, width: float, room: float) -> list[tuple[datetime, str]]:
    """The hours of the clock that stand below the bar, each `room` from the next; none where days alone fit."""
    # Not one hour a window has room: days alone are told apart.
    if len(scale.open) * room > width:
        return []
    for step in STEPS:
        ticks = (_in(span, step, scale.zone) for span in scale.open)
        near = ((scale.share(later) - scale.share(at)) * width for of in ticks for at, later in pairwise(of))
        if all(apart >= room for apart in near):
            every = [at for span in scale.open for at in _in(span, step, scale.zone)]
            return [(at, f"{at.astimezone(scale.zone):%H:%M}") for at in _with_room(scale, every, width, room)]
    return []


def days(scale: Scale, width: float, room: float) -> list[tuple[datetime, str]]:
    """Each day where the shop first opens on it, as many as fit."""
    first: dict[object, datetime] = {}
    for span in scale.open or (Span(scale.begin, scale.end),):
        local = span.begin.astimezone(scale.zone)
        first.setdefault(local.date(), span.begin)
    kept: list[datetime] = []
    for at in first.values():
        if not kept or (scale.share(at) - scale.share(kept[-1])) * width >= room:
            kept.append(at)
    return [(at, in_format(at.astimezone(scale.zone), _("D j M"))) for at in kept]


def _in(span: Span, step: int, zone: tzinfo) -> Iterator[datetime]:
    """The moments of a window at which the clock shows a multiple of the step."""
    day = span.begin.astimezone(zone).date()
    while day <= span.end.astimezone(zone).date():
        for minute in range(0, 24 * 60, step):
            local = datetime.combine(day, time(minute // 60, minute % 60), zone)
            at = local.astimezone(UTC)
            # An hour that the clock leaps over is not there.
            if span.begin <= at < span.end and at.astimezone(zone).replace(tzinfo=None) == local.replace(tzinfo=None):
                yield at
        day += timedelta(days=1)


def _with_room(scale: Scale, ticks: list[datetime], width: float, room: float) -> list[datetime]:
    """From the last to the first, so that of two the hour of opening stays and not the one before the gap."""
    kept: list[datetime] = []
    for at in reversed(ticks):
        if not kept or (scale.share(kept[-1]) - scale.share(at)) * width >= room:
            kept.append(at)
    return kept[::-1]
