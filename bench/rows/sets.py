"""Tool sets with more surfaces than hands, where orders are tried, beside one placing of the same; and many of them.

Each of the sets is another; their steps are those of a semi-permanent recipe, begun here and there.
"""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from random import Random

from bench.measure import Row, in_turn
from bench.synth.make import END
from tooling.calc.timeline import ShopHours, Step
from tooling.calc.together import Surface, side_by_side, start_by

SETS, SURFACES = 200, 12
HANDS, FEW = 6, 2
WEEK = {day: [("07:00", "17:00")] for day in range(5)}
WANTED = END + timedelta(days=20)


def measure() -> Iterator[Row]:
    """A hand for each surface needs one placing and no search."""
    rng = Random(1)
    sets = [[_surface(str(number), rng) for number in range(SURFACES)] for _set in range(SETS)]
    for hands, target in ((HANDS, 10), (FEW, 25)):
        what = f"{SETS} sets of {SURFACES} surfaces, {hands} hands / a hand each"
        yield in_turn(Row(what, target), lambda h=hands: _ahead(sets, h), lambda: _ahead(sets, SURFACES))
        back = f"{what}, backward"
        yield in_turn(Row(back, target), lambda h=hands: _behind(sets, h), lambda: _behind(sets, SURFACES))
    equal = f"{SETS} equal sets / one of them, {FEW} hands"
    yield in_turn(Row(equal, 25), lambda: _ahead(sets[:1] * SETS, FEW), lambda: _ahead(sets[:1], FEW), rounds=21)


def _ahead(sets: Sequence[list[Surface]], hands: int) -> None:
    hours = ShopHours("Europe/Oslo", WEEK)
    for surfaces in sets:
        side_by_side(surfaces, END, hours, hands)


def _behind(sets: Sequence[list[Surface]], hands: int) -> None:
    hours = ShopHours("Europe/Oslo", WEEK)
    for surfaces in sets:
        start_by(surfaces, WANTED, hours, hands)


def _surface(name: str, rng: Random) -> Surface:
    work, wait = rng.choice([10, 15, 20, 30]), rng.choice([15, 30, 60])
    steps = [Step("strip", 45, 15)] * rng.randint(0, 1) + [Step("sealer", 15, 30)] * rng.randint(0, 2)
    return Surface(name, (*steps, *[Step("coat", work, wait)] * rng.randint(0, 5), Step("coat", work, 720)))
