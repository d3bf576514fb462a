"""The laid-down future agrees with the rules asked directly, at every boundary and a microsecond beside it.

Source: the house's decision on spans (what is needed now asks from <= now < until); the oracle is `status_of` and
`combine` over a whole fold at each asked moment. Across recipe rows, and in zones whose clocks change at midnight.
"""

from bisect import bisect_right
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tooling.calc.histories import histories
from tests.tooling.calc.made_shops import MOLDS
from tests.tooling.calc.replay import Board, History
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.spans import Member, Span, Timeline, day_begins, spans
from tooling.calc.state import State
from tooling.calc.tape import tape_of

INSTANT = timedelta(microseconds=1)
KEEL = Recipe("KEEL", break_in=(), max_idle_days=2)


class Future:
    """A history seen from a moment in it: the spans of each tool, and the board at any later moment."""

    def __init__(self, history: History, since: datetime) -> None:
        self.history = history
        self.since = since
        self.starts = [since, *(at for at in history.moments if at > since)]
        self.boards = [history.board(at) for at in self.starts]
        self.all = history.board()

    def board(self, at: datetime) -> Board:
        return self.boards[bisect_right(self.starts, at) - 1]

    def timeline(self, tool: str) -> Timeline:
        pieces = zip(self.starts, self.boards, strict=True)
        return Timeline(tool, tuple((at, board.folded[tool].state) for at, board in pieces))

    def spans(self, tool: str) -> list[Span]:
        members = []
        for insert, stays in sorted(self.all.stays.items()):
            times = tuple((stay.since, stay.until) for stay in stays if stay.mold == tool)
            members.append(Member(self.timeline(insert), times))
        return spans(self.timeline(tool), members, self.history.shop.book, self.history.shop.zone, self.since)


def check_chain(chain: list[Span], since: datetime) -> None:
    """They follow on each other without a gap, each says something else, and the last is open."""
    assert chain[0].since == since
    assert chain[-1].until is None
    for one, following in pairwise(chain):
        assert one.until == following.since
        assert one.since < following.since
        assert (one.status, one.own, one.tape) != (following.status, following.own, following.tape)


def said(chain: list[Span], at: datetime) -> Span:
    (one,) = [span for span in chain if span.since <= at and (span.until is None or at < span.until)]
    return one


def where_something_may_change(future: Future) -> Iterable[datetime]:
    """Found without looking at the spans: what happened, recipe rows, cures, films, and every midnight for 40 days."""
    shop = future.history.shop
    yield from future.starts
    yield from (row.valid_from for row in shop.rows if row.valid_from)
    for board in future.boards:
        for state in (folded.state for folded in board.folded.values()):
            yield from (at for at in (state.ready_at, state.part and state.part.earliest_pull) if at)
            for row in shop.rows if state.film_at else ():
                yield state.film_at + timedelta(minutes=row.film_dry_minutes)
                yield state.film_at + timedelta(hours=row.film_good_hours or 0)
    first = future.since.astimezone(shop.zone).date()
    yield from (day_begins(first + timedelta(days=days), shop.zone) for days in range(1, 41))


@given(histories(), st.data())
def test_the_spans_say_what_the_rules_say(history, data):
    future = Future(history, data.draw(st.sampled_from(history.moments)))
    tool = data.draw(st.sampled_from((MOLDS[0], *history.shop.tools)))
    chain = future.spans(tool)
    check_chain(chain, future.since)
    any_time = data.draw(st.lists(st.integers(0, 90 * 24 * 3600), max_size=5))
    asked = {future.since + timedelta(seconds=seconds) for seconds in any_time}
    for boundary in {span.since for span in chain} | set(where_something_may_change(future)):
        asked |= {boundary - INSTANT, boundary, boundary + INSTANT}
    for at in sorted(one for one in asked if one >= future.since):
        span, board = said(chain, at), future.board(at)
        assert (at, span.own) == (at, board.own(tool, at))
        assert (at, span.status) == (at, board.status(tool, at))
        assert span.tape == tape_of(board.folded[tool].state, history.shop.book, history.shop.zone, at)


def in_service(last_coat: datetime, **more: object) -> State:
    return State(system="KEEL", phase="service", new=False, last_coat=last_coat, **more)


def statuses(state: State, zone: ZoneInfo, since: datetime, *recipes: Recipe) -> list[tuple[datetime, str]]:
    chain = spans(Timeline("HULL-1", ((since, state),)), (), RecipeBook(recipes), zone, since)
    return [(span.since, span.status.status) for span in chain]


@pytest.mark.parametrize(
    ("zone", "coat", "idle"),
    [
        # Midnight does not exist: the clock goes from 00:00 to 01:00.
        ("America/Havana", (2024, 3, 7, 17), (2024, 3, 10, 5)),
        ("Asia/Beirut", (2024, 3, 28, 10), (2024, 3, 30, 22)),
        ("America/Santiago", (2024, 9, 5, 15), (2024, 9, 8, 4)),
        # Midnight comes twice (01:00 back to 00:00): the day begins at the first.
        ("America/Havana", (2024, 10, 31, 16), (2024, 11, 3, 4)),
        # 24:00 back to 23:00: the day before has 25 hours.
        ("Asia/Beirut", (2024, 10, 24, 9), (2024, 10, 26, 22)),
        ("America/Santiago", (2024, 4, 4, 15), (2024, 4, 7, 4)),
        ("America/New_York", (2024, 3, 8, 17), (2024, 3, 11, 4)),
        ("America/New_York", (2024, 11, 1, 16), (2024, 11, 4, 5)),
    ],
)
def test_idle_begins_with_the_third_local_day(zone, coat, idle):
    since, begins = datetime(*coat, tzinfo=UTC), datetime(*idle, tzinfo=UTC)
    said = statuses(in_service(since), ZoneInfo(zone), since, KEEL)
    assert said == [(since, "ready"), (begins, "needs_touch_up")]


def test_a_later_row_makes_it_idle_from_its_own_instant():
    since = datetime(2024, 5, 6, 15, tzinfo=UTC)
    changed = since + timedelta(days=5, minutes=1)
    rows = (Recipe("KEEL", break_in=(), max_idle_days=None), Recipe("KEEL", changed, max_idle_days=2))
    said = statuses(in_service(since), ZoneInfo("America/New_York"), since, *rows)
    assert said == [(since, "ready"), (changed, "needs_touch_up")]


def test_a_film_dries_and_is_good_to_the_last_instant():
    since = datetime(2024, 5, 6, 15, tzinfo=UTC)
    recipe = Recipe("KEEL", film_every_pull=True, film_dry_minutes=30, film_good_hours=8, break_in=())
    state = in_service(since, ready_at=since + timedelta(minutes=10), film_at=since)
    said = statuses(state, ZoneInfo("UTC"), since, recipe)[:4]
    assert said == [
        (since, "curing"),
        (since + timedelta(minutes=10), "film_drying"),
        (since + timedelta(minutes=30), "ready"),
        (since + timedelta(hours=8) + INSTANT, "needs_film"),
    ]


def test_an_insert_counts_from_when_it_is_put_in_until_it_is_taken_out():
    since = datetime(2024, 5, 6, 15, tzinfo=UTC)
    put_in, taken_out = since + timedelta(minutes=2), since + timedelta(minutes=4)
    held = in_service(since, holds={"hold": 1})
    mold, insert = Timeline("HULL-1", ((since, in_service(since)),)), Timeline("BOW-1", ((since, held),))
    book = RecipeBook([Recipe("KEEL", break_in=(), max_idle_days=None)])
    chain = spans(mold, [Member(insert, ((put_in, taken_out),))], book, ZoneInfo("UTC"), since)
    assert [(span.since, span.status.status, span.status.surface) for span in chain] == [
        (since, "ready", "HULL-1"),
        (put_in, "held", "BOW-1"),
        (taken_out, "ready", "HULL-1"),
    ]
    assert {span.own.status for span in chain} == {"ready"}
    check_chain(chain, since)
