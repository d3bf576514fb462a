"""The state of one release surface after its entries, and that state as JSON for the summary row."""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, fields
from datetime import UTC, datetime, timedelta
from typing import Any

BARE, PREPARING, SERVICE, UNKNOWN = "bare", "preparing", "service", "unknown"

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class PartIn:
    """The part that lies in the mold: what it is, since when, when it may come out, and the lay-up's number."""

    part: str
    serial: str
    since: datetime
    earliest_pull: datetime | None
    entry: int


@dataclass(slots=True)
class State:
    """What is known of one surface. Counts are whole pulls and coats, times are UTC.

    `holds` has for each reason the number of the entry that held the tool for it first.
    """

    system: str | None = None
    phase: str = BARE
    new: bool = True
    retired: bool = False
    holds: dict[str, int] = field(default_factory=dict)
    held_by: set[Hashable] = field(default_factory=set)
    forced: set[str] = field(default_factory=set)
    forced_strip: set[str] = field(default_factory=set)
    build_up: bool = False
    sealers: int = 0
    coats: int = 0
    touch_up_coats: int = 0
    index: int = 0
    since_coat: int = 0
    strokes: list[str] = field(default_factory=list)
    touch_ups: int = 0
    touch_ups_known: bool = True
    since_preparation: int = 0
    film_first_past: bool = False
    total_pulls: int = 0
    total_coats: int = 0
    last_coat: datetime | None = None
    last_pull: datetime | None = None
    last_check: datetime | None = None
    gap_from: datetime | None = None
    ready_at: datetime | None = None
    film_at: datetime | None = None
    part: PartIn | None = None
    own_n: int | None = None
    part_n: dict[str, int] = field(default_factory=dict)
    cap: int | None = None
    next_cap: int | None = None
    open_lay_ups: list[datetime] = field(default_factory=list)

    def lay_bare(self) -> None:
        """Back to the bare surface: all that came since the preparation is gone; holds, part and totals stay."""
        self.phase = BARE
        self.forced.clear()
        self.forced_strip.clear()
        self.build_up = False
        self.sealers = self.coats = self.touch_up_coats = self.index = 0
        self.since_coat = self.since_preparation = self.touch_ups = 0
        self.strokes = []
        self.touch_ups_known, self.film_first_past = True, False
        self.gap_from = self.ready_at = self.film_at = None
        self.cap = self.next_cap = None


def encode(state: State) -> dict[str, Any]:
    """The state as JSON values; whatever equals the default is left out.

    Parameters:
        state [-]: the state to write.

    Returns:
        [-] a dictionary for `json.dumps`; instants are whole microseconds since 1970 UTC.
    """
    default = State()
    return {
        f.name: _out(getattr(state, f.name))
        for f in fields(State)
        if getattr(state, f.name) != getattr(default, f.name)
    }


def decode(stored: dict[str, Any]) -> State:
    """The state that `encode` wrote.

    Parameters:
        stored [-]: the dictionary that `encode` returned.

    Returns:
        [-] an equal state.
    """
    state = State()
    for name, value in stored.items():
        setattr(state, name, _BACK.get(name, _same)(value))
    return state


def micros(instant: datetime) -> int:
    """Whole microseconds since 1970-01-01 UTC.

    Parameters:
        instant [UTC]: an aware instant.

    Returns:
        [us] an exact whole number (a float of seconds would lose the last digits).
    """
    return (instant - _EPOCH) // _MICROSECOND


def instant(micros: int) -> datetime:
    """The instant that `micros` counted.

    Parameters:
        micros [us]: whole microseconds since 1970-01-01 UTC.

    Returns:
        [UTC] an aware instant.
    """
    return _EPOCH + micros * _MICROSECOND


def _out(value: Any) -> Any:
    if isinstance(value, datetime):
        return micros(value)
    if isinstance(value, set):
        return sorted(value, key=str)
    if isinstance(value, list):
        return [_out(item) for item in value]
    if isinstance(value, PartIn):
        return [value.part, value.serial, micros(value.since), _out(value.earliest_pull), value.entry]
    return value


def _same(value: Any) -> Any:
    return value


def _part(value: list[Any]) -> PartIn:
    part, serial, since, earliest, entry = value
    return PartIn(part, serial, instant(since), None if earliest is None else instant(earliest), entry)


_BACK: dict[str, Callable[[Any], Any]] = {
    **dict.fromkeys(("held_by", "forced", "forced_strip"), set),
    **dict.fromkeys(("last_coat", "last_pull", "last_check", "gap_from", "ready_at", "film_at"), instant),
    **dict.fromkeys(("holds", "part_n"), dict),
    "strokes": list,
    "part": _part,
    "open_lay_ups": lambda values: [instant(value) for value in values],
}
