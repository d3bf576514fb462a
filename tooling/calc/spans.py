"""The future of a surface as long as nobody does anything: cures end, films dry, idle days begin, recipes change."""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from tooling.calc.due import expiry_dates
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import State
from tooling.calc.status import Status, combine, status_of
from tooling.calc.tape import Tape, tape_of

# "Exactly the limit is good": the change comes with the next instant that can be stored.
_JUST_AFTER = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Timeline:
    """A surface from some moment on: (instant, the state that stands from then), earliest first, never empty."""

    tool: Hashable
    pieces: tuple[tuple[datetime, State], ...]

    def at(self, instant: datetime) -> State:
        """The state that stands at `instant`."""
        state = self.pieces[0][1]
        for since, later in self.pieces:
            if since <= instant:
                state = later
        return state


@dataclass(frozen=True, slots=True)
class Member:
    """An insert with its times in the mold, each (since, until), until None while it is in."""

    timeline: Timeline
    times: tuple[tuple[datetime, datetime | None], ...]

    def is_in(self, instant: datetime) -> bool:
        """True where the insert is in the mold at `instant`."""
        return any(since <= instant and (until is None or instant < until) for since, until in self.times)


@dataclass(frozen=True, slots=True)
class Span:
    """One answer and how long it holds, half-open; `until` None: for good.

    `own` is the tool without its inserts, and `tape` is always its own.
    """

    since: datetime
    until: datetime | None
    status: Status
    own: Status
    tape: Tape


def spans(tool: Timeline, inserts: Sequence[Member], book: RecipeBook, zone: tzinfo, since: datetime) -> list[Span]:
    """All statuses of a tool (a mold with its inserts) from a moment on, if no further entry is made.

    Parameters:
        tool [-]: the tool's own surface.
        inserts [-]: the inserts that are or will be in it, in code order.
        book [-]: the shop's recipes, later rows included.
        zone [-]: the shop's time zone.
        since [UTC]: the moment to begin at.

    Returns:
        [-] spans that follow on each other without a gap; the last is open.
    """
    result: list[Span] = []
    for instant in _boundaries([tool, *(m.timeline for m in inserts)], inserts, book, zone, since):
        state = tool.at(instant)
        own = status_of(state, tool.tool, book, zone, instant)
        tape = tape_of(state, book, zone, instant)
        installed = [m.timeline for m in inserts if m.is_in(instant)]
        status = combine(own, [status_of(one.at(instant), one.tool, book, zone, instant) for one in installed])
        if result and (result[-1].status, result[-1].own, result[-1].tape) == (status, own, tape):
            continue
        if result:
            result[-1] = replace(result[-1], until=instant)
        result.append(Span(instant, None, status, own, tape))
    return result


def day_begins(day: date, zone: tzinfo) -> datetime:
    """The first instant of a local calendar day.

    Where the clock jumps over midnight the day begins at the jump; where midnight comes twice, at the first.

    Parameters:
        day [date]: the local day.
        zone [-]: the time zone.

    Returns:
        [UTC] the instant.
    """
    return datetime.combine(day, time(), tzinfo=zone).astimezone(UTC)


def _boundaries(
    timelines: Iterable[Timeline], inserts: Sequence[Member], book: RecipeBook, zone: tzinfo, since: datetime
) -> list[datetime]:
    """Every instant from `since` on at which an answer may change; more than needed does no harm."""
    instants = {since}
    for timeline in timelines:
        for start, state in timeline.pieces:
            instants.add(start)
            instants.update(_changes(state, book, zone, since))
    for member in inserts:
        for begin, end in member.times:
            instants.update(instant for instant in (begin, end) if instant is not None)
    return sorted(instant for instant in instants if instant >= since)


def _changes(state: State, book: RecipeBook, zone: tzinfo, since: datetime) -> Iterable[datetime]:
    changes = book.changes(state.system)
    yield from changes
    rows = [book.at(state.system, instant) for instant in (since, *(c for c in changes if c > since))]
    for row in rows:
        if row is not None:
            yield from _changes_under(state, row, zone)


def _changes_under(state: State, recipe: Recipe, zone: tzinfo) -> Iterable[datetime]:
    if state.ready_at is not None:
        yield state.ready_at
    if state.film_at is not None:
        yield state.film_at + timedelta(minutes=recipe.film_dry_minutes)
        if recipe.film_good_hours is not None:
            yield state.film_at + timedelta(hours=recipe.film_good_hours) + _JUST_AFTER
    for day in expiry_dates(state, recipe, zone):
        yield day_begins(day, zone)
