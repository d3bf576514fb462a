"""Steps that follow on each other, laid on the time line as early as hands and waits allow.

Times are whole microseconds, so that the same laying out serves time that runs backward: there everything is negated.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import isfinite
from typing import NamedTuple

from tooling.calc.hours import HORIZON_DAYS, MINUTE, Infeasible, Windows
from tooling.calc.state import micros

# The first start from the first number on at which hands are free for as long as the second; None where none is.
Slot = Callable[[int, int], int | None]


@dataclass(frozen=True, slots=True)
class Step:
    """Work of the hands, and the wait behind it.

    `longest_wait_minutes` counts from the end of this work to the start of the next; None is no limit. Before
    `not_before` the work does not begin. Work of 0 minutes needs no hands, and so no shop hours. What it puts on is
    good for a lay-up up to the end of the day that is `good_days` after that of its end; None is no limit.
    """

    name: str
    work_minutes: float
    wait_minutes: float = 0
    longest_wait_minutes: float | None = None
    not_before: datetime | None = None
    good_days: int | None = None

    def __post_init__(self) -> None:
        for what in ("work_minutes", "wait_minutes", "longest_wait_minutes"):
            value = getattr(self, what)
            if value is not None and not (isfinite(value) and value >= 0):
                raise ValueError(f"{self.name}: {what} is {value}; it goes from 0 upwards.")


class Link(NamedTuple):
    """A step in microseconds; `wait` and `longest` are those to the next one in the direction of time."""

    step: Step
    work: int
    wait: int
    longest: int | None


class NoPlace(Exception):
    """Step number `place` finds no place up to the limit; `pushed`: because a longest wait moved it on and on."""

    def __init__(self, place: int, pushed: bool) -> None:
        super().__init__()
        self.place = place
        self.pushed = pushed


def links(steps: Sequence[Step]) -> list[Link]:
    """The steps in microseconds, in the order of time.

    Parameters:
        steps [min]: the steps.

    Returns:
        [us] a link a step.

    Raises:
        Infeasible: where a longest wait is shorter than the wait itself.
    """
    made = []
    for place, step in enumerate(steps):
        longest = None if step.longest_wait_minutes is None else round(step.longest_wait_minutes * MINUTE)
        wait = round(step.wait_minutes * MINUTE)
        if longest is not None and longest < wait and place < len(steps) - 1:
            said = f"{_minutes(step.wait_minutes)} has to pass after {step.name}, and no more than"
            sentence = f"{said} {_minutes(step.longest_wait_minutes)} may."
            raise Infeasible("longest_wait", sentence, step.name)
        made.append(Link(step, round(step.work_minutes * MINUTE), wait, longest))
    return made


def backwards(chain: Sequence[Link]) -> list[Link]:
    """The same steps for time that runs backward: the wait behind a step is the one that lay before it.

    Parameters:
        chain [us]: the links in the order of time.

    Returns:
        [us] the links from the last to the first.
    """
    behind = [*((one.wait, one.longest) for one in chain[:-1])]
    before = [(0, None), *behind][: len(chain)]
    pairs = zip(reversed(chain), reversed(before), strict=True)
    return [Link(one.step, one.work, wait, longest) for one, (wait, longest) in pairs]


def place(chain: Sequence[Link], floors: list[int], slot: Slot, starts: list[int], count: int, limit: int) -> None:
    """Lays the first `count` steps out, each as early as it can: the least starts that keep every wait.

    Where the next step cannot begin before a longest wait is over, the step before it is moved on.

    Parameters:
        chain [us]: the links in the direction of time.
        floors [us]: before which no step begins; raised where a longest wait wants it.
        slot [-]: when hands are free.
        starts [us]: the starts of those that are laid out already; the others are added.
        count [-]: how many are to be laid out.
        limit [us]: after which none may begin.

    Raises:
        NoPlace: where a step finds none up to the limit.
    """
    pushed = False
    while (number := len(starts)) < count:
        link, floor = chain[number], floors[number]
        if number:
            before = chain[number - 1]
            ended = starts[-1] + before.work
            floor = max(floor, ended + before.wait)
        start = slot(floor, link.work) if link.work else floor
        if start is None or start > limit:
            raise NoPlace(number, pushed)
        if number and before.longest is not None and start > ended + before.longest:
            floors[number - 1] = start - before.longest - before.work
            starts.pop()
            pushed = True
        else:
            starts.append(start)


def floors_of(chain: Sequence[Link], begin: int) -> list[int]:
    """Before which each step does not begin.

    Parameters:
        chain [us]: the links in the order of time.
        begin [us]: before which none of them does.

    Returns:
        [us] a floor a step.
    """
    given = (link.step.not_before for link in chain)
    return [begin if one is None else max(begin, micros(one)) for one in given]


def why_no_place(chain: Sequence[Link], failed: NoPlace, windows: Windows, begin: int, end: int) -> Infeasible:
    """Says why a step found no place.

    Parameters:
        chain [us]: the links in the direction in which they were laid out.
        failed [-]: what was raised.
        windows [us]: the shop's hours.
        begin [us]: the beginning of the horizon.
        end [us]: its end.

    Returns:
        [-] the refusal, with a sentence.
    """
    longest = windows.longest(begin, end)
    if longest <= 0:
        return Infeasible("no_hours", f"The shop has no hours within {HORIZON_DAYS} days, so no work can be planned.")
    if long := next((one for one in chain if one.work > longest), None):
        said = f"{long.step.name} takes {_minutes(long.step.work_minutes)} at a stretch"
        sentence = f"{said}, and the shop is never open for longer than {_minutes(longest / MINUTE)}."
        return Infeasible("too_long", sentence, long.step.name)
    name = chain[failed.place].step.name
    if failed.pushed:
        sentence = f"The longest wait beside {name} is shorter than what the shop hours allow: no day fits."
        return Infeasible("longest_wait", sentence, name)
    return Infeasible("horizon", f"{name} finds no place within {HORIZON_DAYS} days.", name)


def _minutes(given: float | None) -> str:
    return f"{given:g} min"
