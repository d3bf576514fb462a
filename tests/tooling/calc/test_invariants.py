"""What no history may break, whatever was done: the invariants beside the worked cases of the release rules.

Order of arrival, voids, `as_of`, `known_at`, a later recipe row, the worst of a mold and its inserts. Source: the
house's own rules of release, "Order", "State of one surface" and the invariants named after the worked cases.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.tooling.calc.advice import deed
from tests.tooling.calc.gate import refusal
from tests.tooling.calc.histories import PARTS, histories
from tests.tooling.calc.made_shops import ACCEPTED, OWN, made_recipe
from tests.tooling.calc.replay import Board, Deed, History, entry_of
from tooling.calc.state import PartIn
from tooling.calc.status import WITH_PULLS_LEFT, WITH_READY_AT

INSTANT = timedelta(microseconds=1)
Name = Callable[[int], int]


def moment(data: st.DataObject, history: History) -> datetime:
    """An instant at which something happened, or one just beside it."""
    beside = data.draw(st.sampled_from((0, 0, -1, 1)))
    return data.draw(st.sampled_from(history.moments)) + beside * INSTANT


def itself(number: int) -> int:
    return number


def part_in(part: PartIn | None, name: Name) -> PartIn | None:
    return part and replace(part, entry=name(part.entry))


def seen(board: Board, name: Name = itself) -> tuple[object, object]:
    """The states and flags of a board; `name` says what the entries that they name are called elsewhere."""
    states = {
        tool: replace(
            one.state,
            holds={why: name(number) for why, number in one.state.holds.items()},
            part=part_in(one.state.part, name),
        )
        for tool, one in board.folded.items()
    }
    return states, {(name(number), flag, tool) for number, flag, tool in board.flags}


def answers(board: Board, at: datetime, name: Name = itself) -> dict[tuple[str, str], object]:
    """What the board says of every tool, for every part."""
    every = {(tool, part): board.status(tool, at, part) for tool in board.shop.tools for part in PARTS}
    return {asked: replace(status, in_mold=part_in(status.in_mold, name)) for asked, status in every.items()}


def arrived(history: History, places: list[int]) -> list[Deed]:
    """The same deeds in another order of arrival; what a void or a correction names comes before it."""
    waiting, order = list(places), []
    while waiting:
        targets = ((place, history.deeds[place]["voids"], history.deeds[place]["replaces"]) for place in waiting)
        free = next(place for place, *named in targets if all(one is None or one in order for one in named))
        waiting.remove(free)
        order.append(free)
    new = {None: None, **{place: number for number, place in enumerate(order)}}
    old = [(place, history.deeds[place]) for place in order]
    return [{**one, "place": place, "voids": new[one["voids"]], "replaces": new[one["replaces"]]} for place, one in old]


@given(histories(distinct=True), st.data())
def test_the_order_of_arrival_changes_nothing(history, data):
    deeds = arrived(history, data.draw(st.permutations(range(len(history.deeds)))))
    entries = [entry_of(one, number) for number, one in enumerate(deeds)]
    for as_of in (None, moment(data, history)):
        other = Board(history.shop, entries, as_of)
        assert seen(other, lambda number: deeds[number - 1]["place"] + 1) == seen(history.board(as_of))


@given(histories(), st.data())
def test_a_void_entry_was_never_entered(history, data):
    place = data.draw(st.sampled_from(range(len(history.deeds))))
    void = entry_of({**deed(history.deeds[place]["tool"], "void", history.end), "voids": place}, len(history.deeds))
    assume(not refusal(history.shop, history.entries, void, history.end))
    chain = {place}
    while (earlier := history.deeds[min(chain)]["replaces"]) is not None:
        chain.add(earlier)
    never = [entry for entry in history.entries if entry.id - 1 not in chain]
    for as_of in (None, moment(data, history)):
        assert seen(Board(history.shop, [*history.entries, void], as_of)) == seen(Board(history.shop, never, as_of))


@given(histories(), st.data())
def test_as_of_is_the_prefix_of_what_stands(history, data):
    as_of = moment(data, history)
    board, prefix = history.board(as_of), Board(history.shop, history.prefix(as_of))
    assert seen(board, lambda number: history.root(number - 1) + 1) == seen(prefix)
    assert answers(board, as_of, lambda number: history.root(number - 1) + 1) == answers(prefix, as_of)


@given(histories(), st.data())
def test_known_at_is_what_was_recorded_by_then(history, data):
    recorded = data.draw(st.sampled_from([one["recorded_at"] for one in history.deeds]))
    known_at = recorded + data.draw(st.sampled_from((0, 0, -1, 1))) * INSTANT
    known = [entry for entry in history.entries if entry.recorded_at and entry.recorded_at <= known_at]
    assert seen(history.board(known_at=known_at)) == seen(Board(history.shop, known))


@given(histories(), st.data())
def test_a_later_recipe_row_changes_no_earlier_answer(history, data):
    valid_from = moment(data, history) + timedelta(minutes=data.draw(st.sampled_from((0, 0, 1, 3000))))
    code = data.draw(st.sampled_from((OWN, ACCEPTED)))
    row = made_recipe(data.draw(st.randoms(use_true_random=False)), code, valid_from)
    shop = history.shop.with_row(row)
    earlier = [at for at in history.moments if at < valid_from]
    some = data.draw(st.sets(st.sampled_from(earlier), max_size=2)) if earlier else set()
    for at in (*some, valid_from - INSTANT):
        board, other = history.board(at), Board(shop, history.entries, at)
        assert seen(other) == seen(board)
        assert answers(other, at) == answers(board, at)
    before = {entry.id for entry in history.entries if entry.at < valid_from}
    flags, others = history.board().flags, Board(shop, history.entries).flags
    assert {flag for flag in others if flag[0] in before} == {flag for flag in flags if flag[0] in before}


@given(histories(), st.data())
def test_the_whole_is_never_better_than_any_of_its_surfaces(history, data):
    at = moment(data, history)
    board = history.board(at)
    for mold in history.shop.molds:
        for part in PARTS:
            whole = board.status(mold, at, part)
            each = [board.own(tool, at, part) for tool in (mold, *board.installed(mold, at))]
            assert whole.rank == min(one.rank for one in each)
            worst = next(one for one in each if one.rank == whole.rank)
            assert (whole.surface, whole.need) == (worst.tool, worst.need)
            assert set(whole.why) == {reason for one in each if one.rank == whole.rank for reason in one.why}
            if whole.status in WITH_PULLS_LEFT:
                assert whole.pulls_left == min(one.pulls_left for one in each)
            if whole.status in WITH_READY_AT:
                assert all(one.ready_at is None or one.ready_at <= whole.ready_at for one in each)
            assert whole.expires_on == min((one.expires_on for one in each if one.expires_on), default=None)


@given(histories(most=40))
def test_a_flag_stands_once_on_an_entry_and_surface(history):
    for folded in history.board().folded.values():
        assert len(set(folded.flags)) == len(folded.flags)


@given(histories(most=40))
def test_a_state_hangs_together(history):
    """What stands in one phase only, and what is counted twice."""
    for at in {history.moments[0], history.moments[-1]}:
        for folded in history.board(at).folded.values():
            state = folded.state
            assert len(state.strokes) == state.since_coat <= state.since_preparation
            if state.phase != "service":
                assert not state.forced
                assert state.since_coat == state.since_preparation == state.index == 0
            if state.phase in ("bare", "preparing"):
                assert not state.touch_up_coats
                assert state.ready_at is None
            if state.phase == "bare":
                assert (state.forced_strip, state.build_up, state.coats, state.sealers) == (set(), False, 0, 0)
                assert (state.gap_from, state.cap, state.next_cap) == (None, None, None)


@given(histories(most=40))
def test_every_pull_is_counted_once(history):
    """The total is that of the starting state, if there is one, and all pulls that reach the surface after it."""
    board = history.board()
    for tool, sequence in board.sequences.items():
        total = 0
        for _, _, entry in sequence:
            if entry.kind == "starting_state":
                total = entry.total_pulls or 0
            elif entry.kind == "pull":
                total += entry.count or 1
        assert board.folded[tool].state.total_pulls == total


@given(histories())
def test_the_lay_ups_that_are_open_are_those_since_the_last_part_came_out(history):
    """A mold's own only: what ends them also reaches the inserts that were in it then."""
    board = history.board()
    for tool, sequence in board.sequences.items():
        lay_ups: list[datetime] = []
        for at, _, entry in sequence if tool in history.shop.molds else ():
            if entry.kind == "lay_up":
                lay_ups.append(at)
            elif entry.kind in ("pull", "abandoned"):
                lay_ups.clear()
        assert board.folded[tool].state.open_lay_ups == lay_ups
