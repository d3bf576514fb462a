"""When steps of work can be done in shop hours: forward from a start, backward from a wanted time; and how cold slows.

A step that takes hands lies wholly inside one window of the shop hours, waits run overnight. All arithmetic is in UTC.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import isfinite

from tooling.calc.chain import Link, NoPlace, Slot, Step, backwards, floors_of, links, place, why_no_place
from tooling.calc.hours import HORIZON, Infeasible, ShopHours
from tooling.calc.state import instant, micros

__all__ = ["Infeasible", "Plan", "ShopHours", "Step", "backward", "forward", "q10_ratio", "temperature_factor"]

# Beyond this the recipe's own numbers say nothing any more (the house's own rule).
MOST_FACTOR = 3.0


@dataclass(frozen=True, slots=True)
class Plan:
    """When each step's work begins and ends, in UTC, and the end of the wait behind the last."""

    steps: tuple[Step, ...]
    starts: tuple[datetime, ...]
    ends: tuple[datetime, ...]
    ready_at: datetime


def forward(steps: Sequence[Step], start: datetime, hours: ShopHours) -> Plan:
    """Every step as early as it can be, from `start` on.

    A longest wait that shop hours would break moves the earlier step to a later time; that of the last step is
    ignored. Without steps it is ready at the start.

    Parameters:
        steps [min]: what has to be done, in order.
        start [UTC]: before which nothing begins.
        hours [-]: the shop's hours.

    Returns:
        [UTC] the least starts that keep every rule, the ends, and when the last wait is over.

    Raises:
        Infeasible: where no plan is possible within 400 days.
        ValueError: where the start has no zone.

    Source: the house's own rules.
    Example: 5 coats of 20 min, 60 min between, 12 h cure, Mon-Fri 08:00-17:00, from Monday 08:00: 08:00, 09:20,
        10:40, 12:00 and 13:20, ready on Tuesday at 01:40.
    """
    begin = _known(start, "start")
    chain, starts = links(steps), list[int]()
    try:
        place(chain, floors_of(chain, begin), hours.windows.earliest, starts, len(chain), begin + HORIZON)
    except NoPlace as failed:
        raise why_no_place(chain, failed, hours.windows, begin, begin + HORIZON) from None
    return as_plan(chain, starts, begin)


def backward(steps: Sequence[Step], wanted: datetime, hours: ShopHours) -> Plan:
    """Every step as late as it can be, so that all is ready at the wanted time.

    A longest wait that shop hours would break moves the later step to an earlier time; that of the last step is
    ignored. Without steps it is ready at the wanted time.

    Parameters:
        steps [min]: what has to be done, in order.
        wanted [UTC]: when all has to be ready.
        hours [-]: the shop's hours.

    Returns:
        [UTC] the greatest starts that keep every rule, the ends, and when the last wait is over, which may be earlier
        than wanted.

    Raises:
        Infeasible: where no plan is possible within 400 days, or a step would begin before its `not_before`.
        ValueError: where the wanted time has no zone.

    Source: the house's own rules.
    Example: the same five coats, wanted on Wednesday at 08:00: Tuesday 11:20, 12:40, 14:00, 15:20 and 16:40.
    """
    end = _known(wanted, "wanted time")
    chain, mirrored = links(steps), list[int]()
    back = backwards(chain)
    floors = [-end + chain[-1].wait] * len(chain) if chain else []
    try:
        place(back, floors, mirrored_slot(hours), mirrored, len(back), HORIZON - end)
    except NoPlace as failed:
        raise why_no_place(back, failed, hours.windows, end - HORIZON, end) from None
    starts = [-(at + link.work) for at, link in zip(mirrored, back, strict=True)][::-1]
    if early := too_early(chain, starts):
        raise early
    return as_plan(chain, starts, end)


def mirrored_slot(hours: ShopHours) -> Slot:
    """The shop's hours for time that runs backward.

    Parameters:
        hours [-]: the shop's hours.

    Returns:
        [us] the slot.
    """

    def slot(begin: int, work: int) -> int | None:
        end = hours.windows.latest(-begin, work)
        return None if end is None else -end

    return slot


def mirrored_windows(hours: ShopHours) -> Callable[[int, int], list[tuple[int, int]]]:
    """The windows between two moments for time that runs backward.

    Parameters:
        hours [-]: the shop's hours.

    Returns:
        [us] what gives them, in that direction.
    """

    def between(begin: int, end: int) -> list[tuple[int, int]]:
        return [(-close, -open_) for open_, close in reversed(hours.windows.between(-end, -begin))]

    return between


def too_early(chain: Sequence[Link], starts: Sequence[int]) -> Infeasible | None:
    """The refusal of a step that would have to begin before it may.

    Parameters:
        chain [us]: the links in the order of time.
        starts [us]: their starts.

    Returns:
        [-] the refusal of the first such step; None where there is none.
    """
    for link, start in zip(chain, starts, strict=True):
        allowed = link.step.not_before
        if allowed is not None and start < micros(allowed):
            said = f"{link.step.name} would have to begin at {instant(start):%Y-%m-%d %H:%M} UTC"
            sentence = f"{said} and cannot before {instant(micros(allowed)):%Y-%m-%d %H:%M} UTC."
            return Infeasible("not_before", sentence, link.step.name)
    return None


def as_plan(chain: Sequence[Link], starts: Sequence[int], empty: int) -> Plan:
    """The plan that the starts make.

    Parameters:
        chain [us]: the links in the order of time.
        starts [us]: their starts.
        empty [us]: when it is ready without any step.

    Returns:
        [UTC] the plan.
    """
    ends = [start + link.work for start, link in zip(starts, chain, strict=True)]
    return Plan(
        steps=tuple(link.step for link in chain),
        starts=tuple(map(instant, starts)),
        ends=tuple(map(instant, ends)),
        ready_at=instant(ends[-1] + chain[-1].wait if chain else empty),
    )


def temperature_factor(
    temp_c: float, reference_c: float, low_c: float | None, high_c: float | None, q10: float = 2.0
) -> float:
    """By how much waits grow in a shop that is colder than the recipe's numbers are meant for.

    Warmth shortens no supplier's minimum: at the reference and above it is 1.

    Factor: max(1, q10^((reference_c - temp_c) / 10)), for low_c <= temp_c <= high_c, up to 3.

    Parameters:
        temp_c [°C]: the shop's temperature.
        reference_c [°C]: the temperature that the recipe's waits are meant for.
        low_c [°C]: the coldest that the recipe may be used at; None is no limit.
        high_c [°C]: the warmest; None is no limit.
        q10 [-]: how many times as fast it goes 10 °C warmer.

    Returns:
        [-] the factor on waiting times, from 1 to 3.

    Raises:
        ValueError: outside the recipe's range, and where the factor would be above 3.

    Source: common practice, no source: gel time halves with every 10 °C.
    Example: 13 °C against 23 °C: 2.
    """
    factor = max(1.0, q10_ratio(temp_c, reference_c, q10))
    if low_c is not None and temp_c < low_c:
        raise ValueError(f"The shop has {temp_c:g} °C and the recipe begins at {low_c:g} °C: warm the shop first.")
    if high_c is not None and temp_c > high_c:
        raise ValueError(f"The shop has {temp_c:g} °C and the recipe ends at {high_c:g} °C: let the shop cool first.")
    if factor > MOST_FACTOR:
        said = f"At {temp_c:g} °C the waits would be {factor:.1f} times those at {reference_c:g} °C"
        raise ValueError(f"{said}; more than {MOST_FACTOR:g} times is not reckoned with: warm the shop first.")
    return factor


def q10_ratio(from_c: float, to_c: float, q10: float = 2.0) -> float:
    """How many times as fast it goes at one temperature as at another.

    Ratio: q10^((to_c - from_c) / 10).

    Parameters:
        from_c [°C]: the one it is compared with.
        to_c [°C]: the other.
        q10 [-]: how many times as fast it goes 10 °C warmer, above 0.

    Returns:
        [-] the ratio, above 0.

    Raises:
        ValueError: where a temperature is no number, or q10 is not above 0.

    Source: the form of ASTM F1980.
    Example: 25 °C to 55 °C: 8.
    """
    for value in (from_c, to_c):
        if not isfinite(value):
            raise ValueError(f"A temperature is {value}; it has to be a number of °C.")
    if not (isfinite(q10) and q10 > 0):
        raise ValueError(f"q10 is {q10}; it has to be above 0.")
    try:
        return float(q10 ** ((to_c - from_c) / 10))
    except OverflowError:
        raise ValueError(f"{from_c:g} °C and {to_c:g} °C are too far apart to compare.") from None


def _known(at: datetime, what: str) -> int:
    if at.tzinfo is None:
        raise ValueError(f"The {what} {at} has no time zone.")
    return micros(at)
