"""Where the readings of a tool are going: by what was measured, against the pulls by then, up to the shop's limit."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from tooling.calc.trend import Crossing, Line, crossing, straight_line
from tooling.models import Entry, Tool
from tooling.models.reading_keys import Key, condition_of, key_of, value_in_si
from tooling.selectors.pull_counts import ANEW, counted
from tooling.selectors.reading_limits import Limit, limits_for

# What is measured there is of that spot alone: two dimensions are not one, whatever the limit of both.
_BY_SPOT = frozenset({"dimension", "depth"})
# Where the count begins anew, so do readings: what was before it is not counted the same way.
_BEGINS = frozenset({*ANEW, "starting_state"})


@dataclass(frozen=True, slots=True)
class Reading:
    """One value, in the unit of its series, with the pulls by then."""

    entry: Entry
    value: float
    pulls: int

    @property
    def spot(self) -> str:
        """Where it was read; "" where nobody said."""
        return str(self.entry.payload.get("spot", ""))


@dataclass(frozen=True, slots=True)
class Visit:
    """What was read at one pull count of a segment: one visit, its mean."""

    pulls: int
    readings: tuple[Reading, ...]

    @property
    def mean(self) -> float:
        """Of all spots."""
        return sum(one.value for one in self.readings) / len(self.readings)

    @property
    def low(self) -> float:
        """The lowest spot."""
        return min(one.value for one in self.readings)

    @property
    def high(self) -> float:
        """The highest spot."""
        return max(one.value for one in self.readings)

    @property
    def at(self) -> datetime:
        """When its last value was read."""
        return self.readings[-1].entry.at


@dataclass(frozen=True, slots=True)
class Segment:
    """Visits between two works on the surface. begun: the work that it follows, None for the first."""

    begun: Entry | None
    pulls: int
    visits: tuple[Visit, ...]


@dataclass(frozen=True, slots=True)
class Series:
    """All readings that may be compared with each other. quantity, geometry: as they were written last.

    spot: where they were read, where each spot goes by itself; else "".
    segments: in order, the last is the current one, which alone says where it is going. now: pulls at the moment.
    crossing: None without a limit. line: through the current segment, where there is one.
    """

    key: Key
    quantity: str
    geometry: str
    segments: tuple[Segment, ...]
    limit: Limit | None
    now: int
    crossing: Crossing | None
    line: Line | None
    spot: str = ""

    @property
    def unit(self) -> str:
        """In which its values stand."""
        return self.key.unit

    @property
    def current(self) -> Segment:
        """Since the last work on the surface."""
        return self.segments[-1]

    @property
    def visits(self) -> list[Visit]:
        """Of all segments."""
        return [visit for segment in self.segments for visit in segment.visits]

    @property
    def readings(self) -> list[Reading]:
        """All values, the oldest first."""
        return [one for visit in self.visits for one in visit.readings]

    @property
    def last(self) -> Visit:
        """The last visit, of whichever segment."""
        return self.visits[-1]

    @property
    def spots_past(self) -> int:
        """How many values of the last visit are past the limit, where that is of the current segment."""
        if self.limit is None or not self.current.visits:
            return 0
        return sum(self.limit.is_past(one.value) for one in self.last.readings)


def series(tool: Tool, at: datetime) -> list[Series]:
    """Those of one tool as of a moment, by what was measured. Readings that are no number are left out.

    One query where nothing was measured, else five at most, however long the history.
    """
    if not Entry.objects.filter(tool=tool, kind="reading", at__lte=at).exists():
        return []
    events, now = counted(tool, at, ("reading", *ANEW))
    holds = limits_for([tool], at)[tool.pk]
    by_key: dict[tuple[Key, str], list[Reading]] = defaultdict(list)
    for entry, pulls in events:
        if entry.kind == "reading" and (read := _reading(entry, pulls)) is not None:
            by_key[read[0], _own_spot(*read)].append(read[1])
    begun = [(entry, pulls) for entry, pulls in events if entry.kind in _BEGINS]
    place = {entry.pk: number for number, (entry, _pulls) in enumerate(events)}
    found = [_series(key, those, begun, place, holds.get(key), now) for (key, _spot), those in by_key.items()]
    return sorted(found, key=lambda one: (one.key, one.spot.casefold()))


def key_of_entry(entry: Entry) -> Key:
    """With which readings that of an entry may be compared."""
    known = entry.payload
    condition = condition_of(known.get("geometry", ""), known.get("minutes", ""))
    return key_of(known.get("quantity", ""), known.get("unit", ""), condition)


def _reading(entry: Entry, pulls: int) -> tuple[Key, Reading] | None:
    value = value_in_si(entry.payload.get("value", ""), entry.payload.get("unit", ""))
    return None if value is None else (key_of_entry(entry), Reading(entry, float(value), pulls))


def _own_spot(key: Key, read: Reading) -> str:
    return " ".join(read.spot.split()).casefold() if key.quantity in _BY_SPOT else ""


def _series(
    key: Key,
    readings: Sequence[Reading],
    begun: Sequence[tuple[Entry, int]],
    place: dict[int, int],
    limit: Limit | None,
    now: int,
) -> Series:
    segments = list(_segments(readings, begun, place))
    current = segments[-1].visits
    x, y = [float(one.pulls) for one in current], [one.mean for one in current]
    newest = readings[-1].entry.payload
    return Series(
        key=key,
        quantity=newest.get("quantity", ""),
        geometry=condition_of(newest.get("geometry", ""), newest.get("minutes", "")),
        segments=tuple(segments),
        limit=limit,
        now=now,
        crossing=crossing(x, y, limit.value, worse=limit.row.worse) if limit is not None else None,
        line=straight_line(x, y) if len(x) >= 3 else None,
        spot=readings[-1].spot if key.quantity in _BY_SPOT else "",
    )


def _segments(
    readings: Sequence[Reading], begun: Sequence[tuple[Entry, int]], place: dict[int, int]
) -> Iterable[Segment]:
    """A work before the first reading of a series, or one that the next follows without a reading, begins none."""
    cuts = [(place[entry.pk], entry, pulls) for entry, pulls in begun]
    cut: tuple[Entry | None, int] = (None, readings[0].pulls)
    since: list[Reading] = []
    waiting = list(readings)
    for number, entry, pulls in cuts:
        while waiting and place[waiting[0].entry.pk] < number:
            since.append(waiting.pop(0))
        if since:
            yield Segment(*cut, _visits(since))
            since = []
        cut = (entry, pulls)
    yield Segment(*cut, _visits(waiting))


def _visits(readings: Iterable[Reading]) -> tuple[Visit, ...]:
    # In the order of the history pulls never fall within a segment.
    return tuple(Visit(pulls, tuple(those)) for pulls, those in groupby(readings, key=lambda one: one.pulls))
