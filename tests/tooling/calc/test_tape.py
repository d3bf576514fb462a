"""What the tape shows: the house's own recipe of the tally, worked by hand from the counts of one surface."""

from datetime import UTC, datetime, timedelta

import pytest

from tooling.calc.recipe import Recipe, RecipeBook
from tooling.calc.state import State
from tooling.calc.tape import Tape, tape_of

DAY = datetime(2026, 3, 2, 12, tzinfo=UTC)
BOOK = RecipeBook([Recipe("W", break_in=(), touch_up_coats=2, coats_new=5, coats_again=3, max_touch_ups=3)])


def service(**facts) -> State:
    strokes = list(facts.pop("strokes", ()))
    return State(
        system="W", phase="service", new=False, last_coat=DAY, since_coat=len(strokes),
        strokes=strokes, since_preparation=len(strokes), **facts,
    )  # fmt: skip


TAPES = {
    "fresh": (service(), Tape((), 4, None)),
    "two of four": (service(strokes=("free", "light")), Tape(("free", "light"), 2, None)),
    "all done": (service(strokes=("",) * 4), Tape(("",) * 4, 0, None)),
    "two past": (service(strokes=("",) * 6), Tape(("",) * 6, -2, None)),
    "tight": (service(strokes=("tight",), forced={"came_off"}), Tape(("tight",), 0, None)),
    "strip due": (service(strokes=("free",), build_up=True), Tape(("free",), 0, None)),
    "held or with a part in": (service(strokes=("free",), holds={"hold": 1}), Tape(("free",), 3, None)),
    "touch-up begun": (service(strokes=("free",) * 4, touch_up_coats=1), Tape(("free",) * 4, 0, (1, 1))),
    "bare": (State(system="W"), Tape((), 0, (0, 5))),
    "bare again": (State(system="W", new=False), Tape((), 0, (0, 3))),
    "preparing": (State(system="W", phase="preparing", coats=3), Tape((), 0, (3, 2))),
    "unknown": (State(system="W", phase="unknown", new=False), Tape((), 0, (0, 2))),
    "without a recipe": (State(), Tape((), 0, (0, 0))),
}  # fmt: skip


@pytest.mark.parametrize(("state", "tape"), TAPES.values(), ids=TAPES)
def test_tape(state, tape):
    assert tape_of(state, BOOK, UTC, DAY + timedelta(hours=1)) == tape


def test_an_idle_surface_has_no_places_left():
    assert tape_of(service(strokes=("free",)), BOOK, UTC, DAY + timedelta(days=31)) == Tape(("free",), 0, None)
