"""The check of a cut edge: in or out, how well a run of readings keeps its limits, and when it will leave them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf, isfinite, sqrt

from tooling.calc.trend import DOWN, UP, Crossing, crossing
from trimfixtures.calc.points import Point
from trimfixtures.calc.refusal import Refusal

# Under so many readings a capability is hardly more than a guess: the house's own number. The source of the formulas
# wants about so many as SOURCE_WANTS, independent of each other, about normally distributed, of a stable process.
ENOUGH, SOURCE_WANTS = 25, 50
# What `crossing` says of readings that go somewhere.
_GOES = frozenset({"reaches", "not_before", "moving_away", "not_straight", "step"})
# Half of the last digit of a size as it is read in inches, 0.00001 in: nearer than that it is the same size.
SAME_MM = 0.000127001


@dataclass(frozen=True, slots=True)
class Capability:
    """How readings lie between their limits; cp, cpk and cpm are None where readings do not spread at all.

    few: whether there are fewer readings than the house wants.
    """

    mean: float
    sd: float
    cp: float | None
    cpk: float | None
    cpm: float | None
    out_of_limits: int
    count: int
    few: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """Whether a cut edge passed, by its points: those in, those out, those nobody looked at; the one furthest off."""

    passed: bool
    good: tuple[Point, ...]
    out: tuple[Point, ...]
    left: tuple[Point, ...]
    worst: Point | None


def judge(points: Iterable[Point], limit: float | None = None) -> Judged:
    """Whether a cut edge passed: no point is out, and none is further off than the limit, either way.

    Exactly the limit is within, in inches as well, where it is rounded off at its fifth digit. What was measured
    decides over in or out.

    Parameters:
        points [mm]: what was found where.
        limit [mm]: how far off a point may be, either way; None where nothing was measured.

    Returns:
        [-] whether it passed, the points by how they were found, and the one furthest off of those measured.

    Raises:
        Refusal: `nothing_found` without any point that was looked at, `limit_missing` where one was measured and
            there is no limit, `tolerance_below_zero`.

    Source: the house's own rule.
    Example: +0.3 and -0.2 with a limit of 0.25: failed, the first is out.
    """
    given = tuple(points)
    if limit is not None and not 0 <= limit < inf:
        raise Refusal("tolerance_below_zero", f"The limit is {limit}; it is 0 or more.", tolerance=limit)
    measured = [one for one in given if one.deviation is not None]
    if measured and limit is None:
        raise Refusal("limit_missing", "Deviations were measured, but how far off they may be is not said.")
    left = tuple(one for one in given if one.deviation is None and one.within is None)
    if len(left) == len(given):
        raise Refusal("nothing_found", "At no point was anything found.")
    out = tuple(one for one in given if is_out(one, limit))
    good = tuple(one for one in given if one not in out and one not in left)
    worst = max(measured, key=lambda one: abs(one.deviation or 0.0), default=None)
    return Judged(not out, good, out, left, worst)


def is_out(point: Point, limit: float | None = None) -> bool:
    """Whether a point was found out, or measures more than the limit; without one nothing that was measured is out.

    Parameters:
        point [mm]: what was found there.
        limit [mm]: how far off it may be, either way.

    Returns:
        [-] true where it is out.

    Source: the house's own rule.
    Example: +0.3 with a limit of 0.25.
    """
    if point.deviation is not None:
        return limit is not None and abs(point.deviation) > limit + SAME_MM
    return point.within is False


def capability(readings: Sequence[float], lower: float, upper: float, target: float | None = None) -> Capability:
    """How well readings keep their limits: only those that are independent, about normal and do not drift.

    Cp = (upper - lower) / 6 s, Cpk = the lesser of (upper - mean) / 3 s and (mean - lower) / 3 s,
    Cpm = (upper - lower) / 6 sqrt(s² + (mean - target)²); s with n - 1 degrees of freedom.

    Parameters:
        readings [mm]: two or more, in any one unit.
        lower [mm]: the least that is good.
        upper [mm]: the most that is good.
        target [mm]: what is wanted; None: halfway between the limits.

    Returns:
        [-] mean and standard deviation in the unit of the readings, the three indexes, how many readings are out of
        the limits and how many there are; `few` under 25, the house's own number.

    Raises:
        Refusal: `too_few_readings` (below 2), `no_number`, `limits_crossed` where upper is not above lower.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6, What is process capability? It wants about 50
    independent readings, normally distributed, of a process that is in control.
    Example: limits 8 and 20, mean 16, s 2: Cp 1.0, Cpk 0.667.
    """
    if len(readings) < 2:
        raise Refusal(
            "too_few_readings", f"There are {len(readings)} readings; it needs 2 or more.", count=len(readings)
        )
    wanted = (lower + upper) / 2 if target is None else target
    if (wrong := next((one for one in (*readings, lower, upper, wanted) if not isfinite(one)), None)) is not None:
        raise Refusal("no_number", f"A reading or limit is {wrong}; it is a number.", text=str(wrong))
    if not lower < upper:
        raise Refusal(
            "limits_crossed", f"The limits are {lower} and {upper}; the upper is above.", lower=lower, upper=upper
        )
    count = len(readings)
    mean = sum(readings) / count
    sd = sqrt(sum((one - mean) ** 2 for one in readings) / (count - 1))
    around = sqrt(sd * sd + (mean - wanted) ** 2)
    return Capability(
        mean=mean,
        sd=sd,
        cp=(upper - lower) / (6 * sd) if sd else None,
        cpk=min(upper - mean, mean - lower) / (3 * sd) if sd else None,
        cpm=(upper - lower) / (6 * around) if around else None,
        out_of_limits=sum(not lower - SAME_MM <= one <= upper + SAME_MM for one in readings),
        count=count,
        few=count < ENOUGH,
    )


def drift(use_counts: Sequence[float], deviations: Sequence[float], limit: float, confidence: float = 0.90) -> Crossing:
    """After how many parts a cut edge that drifts leaves its limit, which holds either way.

    As `tooling.calc.trend.crossing`, with parts for pulls, towards the side that the line goes to.

    Parameters:
        use_counts [parts]: cut when each was measured.
        deviations [mm]: + material left outside the line, - cut too deep.
        limit [mm]: how far off it may be, either way; its sign does not count.
        confidence [-]: of the limits on both sides.

    Returns:
        [parts] the verdict, and where the line reaches the limit, with the earliest and the latest.

    Raises:
        ValueError: as `crossing`.

    Source: as `crossing`; that the limit holds either way is the house's own rule.
    Example: 0, -0.1, -0.2, -0.3, -0.4 mm at 0, 10, 20, 30, 40 parts and a limit of 0.6: at 60.
    """
    most, worse = abs(limit), _worse(use_counts, deviations, abs(limit))
    return crossing(use_counts, deviations, most if worse == UP else -most, confidence, worse)


def is_drifting(use_counts: Sequence[float], deviations: Sequence[float]) -> bool:
    """Whether readings go anywhere, by a line, a bend or a step, wherever their limit is.

    Parameters:
        use_counts [parts]: how many parts had been cut at each reading.
        deviations [mm]: what was read there.

    Returns:
        [-] true where chance alone hardly explains how they go; false also where there are too few to tell.

    Raises:
        ValueError: as `crossing`.

    Source: as `crossing`, against a limit that none of them reaches.
    Example: 0, -0.1, -0.2, -0.3, -0.4 mm at 0, 10, 20, 30, 40 parts.
    """
    beyond = 1 + 2 * max((abs(one) for one in deviations), default=0)
    return drift(use_counts, deviations, beyond).verdict in _GOES


def _worse(use_counts: Sequence[float], deviations: Sequence[float], most: float) -> str:
    """Up where it drifts towards more material; where the last is beyond the limit already, to that side."""
    if len(use_counts) != len(deviations) or not use_counts:
        return UP
    end = max(use_counts)
    last = [one for at, one in zip(use_counts, deviations, strict=True) if at == end]
    if abs(sum(last)) > most * len(last):
        return UP if sum(last) > 0 else DOWN
    centre, middle = sum(use_counts) / len(use_counts), sum(deviations) / len(deviations)
    pairs = zip(use_counts, deviations, strict=True)
    return UP if sum((at - centre) * (one - middle) for at, one in pairs) >= 0 else DOWN
