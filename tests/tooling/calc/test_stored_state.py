"""A state that was stored is the state: through JSON and back, and stepped on by later entries as if never stored.

Source: the house's decision on the summary row (a later entry is one step; the whole history folds to the same).
"""

import json
from dataclasses import fields
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tooling.calc.histories import histories
from tooling.calc.entry import Entry
from tooling.calc.fold import advance, fold
from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import PartIn, State, decode, encode, instant, micros

T = datetime(2024, 5, 6, 7, 8, 9, 123457, tzinfo=UTC)
FULL = State(
    system="KEEL", phase="service", new=False, retired=True, holds={"hold": 4, "came_off": 9}, held_by={"Ada", 7},
    forced={"idle", "count"}, forced_strip={"idle_long"}, build_up=True, sealers=1, coats=2, touch_up_coats=3, index=4,
    since_coat=5, strokes=["", "tight"], touch_ups=6, touch_ups_known=False, since_preparation=7, film_first_past=True,
    total_pulls=8, total_coats=9, last_coat=T, last_pull=T + timedelta(days=1), last_check=T + timedelta(days=2),
    gap_from=T + timedelta(days=3), ready_at=T + timedelta(days=4), film_at=T + timedelta(days=5),
    part=PartIn("P-1", "S-7", T, T + timedelta(hours=1), 11), own_n=10, part_n={"P-1": 2}, cap=12, next_cap=13,
    open_lay_ups=[T, T + timedelta(hours=2)],
)  # fmt: skip


def stored(state: State) -> State:
    return decode(json.loads(json.dumps(encode(state))))


def test_every_field_comes_back():
    default = State()
    assert [f.name for f in fields(State) if getattr(FULL, f.name) == getattr(default, f.name)] == []
    assert stored(FULL) == FULL


def test_a_new_surface_takes_no_room():
    assert encode(State()) == {}
    assert stored(State()) == State()


def test_a_part_without_an_earliest_pull_comes_back():
    state = State(part=PartIn("", "", T, None, 3))
    assert stored(state) == state


@given(st.datetimes(datetime(1900, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC)))
def test_an_instant_keeps_its_last_microsecond(at):
    assert instant(micros(at)) == at
    assert instant(micros(at)).utcoffset() == timedelta(0)


@given(histories())
def test_a_state_comes_back_from_json(history):
    for folded in history.board().folded.values():
        assert stored(folded.state) == folded.state


@given(histories(), st.data())
def test_stepping_a_stored_state_on_equals_the_whole_fold(history, data):
    shop, board = history.shop, history.board()
    for tool, sequence in board.sequences.items():
        rules = (tool, shop.systems[tool], shop.book, shop.zone)
        whole = board.folded[tool]
        starts = [place for place, (_, _, one) in enumerate(sequence) if one.kind == "starting_state"]
        first = data.draw(st.integers(starts[0] + 1 if starts else 0, len(sequence)))
        second = data.draw(st.integers(first, len(sequence)))
        begun = fold(sequence[:first], *rules)
        middle = advance(stored(begun.state), [entry for _, _, entry in sequence[first:second]], *rules)
        end = advance(stored(middle.state), [entry for _, _, entry in sequence[second:]], *rules)
        assert end.state == whole.state
        assert begun.flags + middle.flags + end.flags == whole.flags


def test_a_starting_state_cannot_be_stepped_to():
    start = Entry(1, "HULL-1", "starting_state", T, prepared="no")
    with pytest.raises(ValueError, match="fold the whole history"):
        advance(State(), [start], "HULL-1", "KEEL", RecipeBook([Recipe("KEEL")]), UTC)
