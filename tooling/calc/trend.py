"""Where a straight line of readings reaches its limit, and from when to when that may be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import inf, isfinite, sqrt
from typing import Any

# Fewer visits, or fewer pulls between the first and the last, and a line says nothing. The house's own numbers.
FEWEST_VISITS, SHORTEST_SPAN = 5, 10
# From so many visits on a bend and a step can be told from chance; so seldom may chance look like one.
FEWEST_FOR_A_BEND, FEWEST_FOR_A_STEP, CHANCE = 8, 6, 0.01
# Beyond the last visit by more than so many times what the visits span, a line is not followed.
FURTHEST_SPANS = 2
# What is left of the readings when arithmetic alone is off.
_NOTHING = 1e-12

UP, DOWN = "up", "down"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of least squares, in the units of its readings."""

    intercept: float
    slope: float
    residual_sd: float
    se_intercept: float
    se_slope: float
    r_squared: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """Whether readings reach their limit, at how many pulls, and the earliest and latest that it may be.

    at, early, late: None where the verdict is none that says so (reaches, not_before).
    """

    verdict: str
    at: float | None = None
    early: float | None = None
    late: float | None = None


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a line meets a limit, at the earliest and at the latest, in the unit of x."""

    at: float
    early: float
    late: float


@dataclass(frozen=True, slots=True)
class _Fit:
    n: int
    x_mean: float
    y_mean: float
    sxx: float
    syy: float
    slope: float
    left: float

    @property
    def sd(self) -> float:
        return sqrt(self.left / (self.n - 2))

    @property
    def is_exact(self) -> bool:
        """Whether nothing is left of the readings but what arithmetic is off."""
        return self.left <= _NOTHING * self.syy

    def doubt(self, confidence: float) -> tuple[float, float]:
        """How wide the line lies (t s), and g: how much of its slope may be chance."""
        from scipy import special

        wide = 0.0 if self.is_exact else float(special.stdtrit(self.n - 2, (1 + confidence) / 2)) * self.sd
        return wide, wide**2 / (self.slope**2 * self.sxx) if self.slope and self.syy else inf


def straight_line(x: Sequence[float], y: Sequence[float]) -> Line:
    """The straight line of least squares through some readings.

    slope = Sxy / Sxx, intercept = ȳ - slope · x̄; the residual standard deviation has n - 2 degrees of freedom.

    Parameters:
        x [-]: where each was read, such as a pull count; three or more, not all the same.
        y [-]: what was read there, in its own unit.

    Returns:
        [-] intercept and slope with their standard errors, the standard deviation of what is left, and r².

    Raises:
        ValueError: with fewer than three readings, a different number of x and y, a reading that is no number, or
            every x the same.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1, linear least squares.
    Example: NIST StRD Norris: intercept -0.262323073774029, slope 1.00211681802045.
    """
    if len(x) != len(y):
        raise ValueError(f"There are {len(x)} x and {len(y)} y; there are as many of each.")
    if len(x) < 3:
        raise ValueError(f"There are {len(x)} readings; a line with its error needs 3 or more.")
    if (wrong := next((one for one in (*x, *y) if not isfinite(one)), None)) is not None:
        raise ValueError(f"A reading is {wrong}; it is a number.")
    if min(x) == max(x):
        raise ValueError(f"Every reading is at {x[0]}; a line needs readings at two places or more.")
    fit = _fitted(x, y)
    intercept = fit.y_mean - fit.slope * fit.x_mean
    return Line(
        intercept=intercept,
        slope=fit.slope,
        residual_sd=fit.sd,
        se_intercept=fit.sd * sqrt(1 / fit.n + fit.x_mean**2 / fit.sxx),
        se_slope=fit.sd / sqrt(fit.sxx),
        r_squared=1 - fit.left / fit.syy if fit.syy else 1.0,
    )


def _fitted(x: Sequence[float], y: Sequence[float]) -> _Fit:
    x_mean, y_mean = sum(x) / len(x), sum(y) / len(y)
    sxx = sum((one - x_mean) ** 2 for one in x)
    syy = sum((one - y_mean) ** 2 for one in y)
    slope = sum((a - x_mean) * (b - y_mean) for a, b in zip(x, y, strict=True)) / sxx
    left = sum((b - y_mean - slope * (a - x_mean)) ** 2 for a, b in zip(x, y, strict=True))
    return _Fit(len(x), x_mean, y_mean, sxx, syy, slope, left)


def crossing(
    pulls: Sequence[float],
    readings: Sequence[float],
    limit: float,
    confidence: float = 0.90,
    worse: str | None = None,
) -> Crossing:
    """At how many pulls a straight line of readings reaches its limit, after Fieller. Plan with `early`.

    Readings at one pull count are one visit, their mean. The verdict is the first that holds: no_readings; past_limit
    (the last visit is beyond it); too_few (below 5 visits); short_span (below 10 pulls); no_trend (g >= 1);
    moving_away; not_straight (quadratic term, p < 0.01, from 8 visits on); step (a step added to the line: F test of
    the best split times the number of splits, p < 0.01, from 6 visits on); not_before (`early` is beyond the last visit
    by more than 2 spans); reaches.

    at, early, late are those of `meets`.

    Parameters:
        pulls [pulls]: at which count each was read, since the last repair, polish or resurfacing.
        readings [-]: what was read there, in the unit of the limit.
        limit [-]: what the readings may reach.
        confidence [-]: of the limits on both sides, above 0 and below 1.
        worse [key]: up or down, where readings get worse; None: from the first visit towards the limit.

    Returns:
        [pulls] the verdict, and where the line reaches the limit, with the earliest and the latest.

    Raises:
        ValueError: for a different number of pulls and readings, something that is no number, a confidence outside
            0 to 1, a `worse` that is neither.

    Source: E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175; the verdicts and
    their numbers are the house's own.
    Example: readings 0, 1, 2, 3, 4 at 0, 10, 20, 30, 40 pulls and a limit of 6: at 60, early and late too.
    """
    _check(pulls, readings, limit, confidence, worse)
    visits = _visits(pulls, readings)
    if not visits:
        return Crossing("no_readings")
    x, y = [one[0] for one in visits], [one[1] for one in visits]
    direction = worse or next((UP if one < limit else DOWN for one in y if one != limit), UP)
    sign = 1 if direction == UP else -1
    if sign * (y[-1] - limit) > 0:
        return Crossing("past_limit")
    if len(visits) < FEWEST_VISITS:
        return Crossing("too_few")
    if x[-1] - x[0] < SHORTEST_SPAN:
        return Crossing("short_span")
    return _crossing(x, y, limit, confidence, sign)


def _check(
    pulls: Sequence[float], readings: Sequence[float], limit: float, confidence: float, worse: str | None
) -> None:
    if len(pulls) != len(readings):
        raise ValueError(f"There are {len(pulls)} pull counts and {len(readings)} readings; there are as many of each.")
    if (wrong := next((one for one in (*pulls, *readings, limit) if not isfinite(one)), None)) is not None:
        raise ValueError(f"A pull count, reading or limit is {wrong}; it is a number.")
    if not 0 < confidence < 1:
        raise ValueError(f"The confidence is {confidence}; it lies between 0 and 1.")
    if worse not in (None, UP, DOWN):
        raise ValueError(f"Readings get worse {worse!r}; it is {UP}, {DOWN} or not said.")


def _visits(pulls: Iterable[float], readings: Iterable[float]) -> list[tuple[float, float]]:
    """The mean of what was read at each pull count, in the order of the counts."""
    ordered = sorted(zip(pulls, readings, strict=True))
    found = []
    for at, group in groupby(ordered, key=lambda one: one[0]):
        values = [reading for _at, reading in group]
        found.append((float(at), sum(values) / len(values)))
    return found


def _crossing(x: list[float], y: list[float], limit: float, confidence: float, sign: int) -> Crossing:
    fit = _fitted(x, y)
    if fit.doubt(confidence)[1] >= 1:
        return Crossing("no_trend")
    if sign * fit.slope < 0:
        return Crossing("moving_away")
    if _is_bent(x, y, fit):
        return Crossing("not_straight")
    if _has_a_step(x, y, fit):
        return Crossing("step")
    met = meets(x, y, limit, confidence)
    is_far = met.early > x[-1] + FURTHEST_SPANS * (x[-1] - x[0])
    return Crossing("not_before" if is_far else "reaches", met.at, met.early, met.late)


def meets(x: Sequence[float], y: Sequence[float], limit: float, confidence: float = 0.90) -> Meeting:
    """Where the line of least squares through some readings meets a limit, with Fieller's limits on both sides.

    g = t² s² / (b² Sxx), d = (limit - ȳ) / b, at = x̄ + d,
    early, late = x̄ + [d ∓ (t s / |b|) sqrt((1 - g) / n + d² / Sxx)] / (1 - g), t two-sided, n - 2 degrees of freedom.

    Parameters:
        x [-]: where each was read; three or more, not all the same.
        y [-]: what was read there.
        limit [-]: in the unit of y.
        confidence [-]: above 0 and below 1.

    Returns:
        [-] where it meets the limit, in the unit of x, with the earliest and the latest.

    Raises:
        ValueError: as `straight_line`; where g is 1 or more, so that the slope may be chance alone.

    Source: E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175.
    Example: a reaction chamber, 400 degrees, 99 %: 66.5 of the dial, from 65.07 to 68.03 (as the tests of investr, an R
    library for calibration, have it after F. A. Graybill and H. K. Iyer, Regression Analysis; the book not checked).
    """
    straight_line(x, y)
    fit = _fitted(x, y)
    wide, g = fit.doubt(confidence)
    if g >= 1:
        raise ValueError(f"g is {g}; it is below 1 where the slope is more than chance.")
    d = (limit - fit.y_mean) / fit.slope
    off = wide / abs(fit.slope) * sqrt((1 - g) / fit.n + d * d / fit.sxx)
    return Meeting(fit.x_mean + d, fit.x_mean + (d - off) / (1 - g), fit.x_mean + (d + off) / (1 - g))


def _is_bent(x: list[float], y: list[float], fit: _Fit) -> bool:
    if fit.n < FEWEST_FOR_A_BEND or fit.is_exact:
        return False
    return _chance_of(x, y, fit, [(one - fit.x_mean) ** 2 for one in x]) < CHANCE


def _has_a_step(x: list[float], y: list[float], fit: _Fit) -> bool:
    """Whether a jump between two visits says more than chance would, wherever it is looked for."""
    if fit.n < FEWEST_FOR_A_STEP or fit.is_exact:
        return False
    splits = range(1, fit.n)
    least = min(_chance_of(x, y, fit, [float(i >= split) for i in range(fit.n)]) for split in splits)
    return least * len(splits) < CHANCE


def _chance_of(x: list[float], y: list[float], fit: _Fit, term: list[float]) -> float:
    """How likely chance alone takes so much off what is left of the readings, when a term is added to the line."""
    import numpy as np
    from scipy import special

    given: Any = np.column_stack([np.ones(fit.n), (np.array(x) - fit.x_mean) / sqrt(fit.sxx), term])
    made, _left, rank, _values = np.linalg.lstsq(given, np.array(y), rcond=None)
    if rank < 3:
        return 1.0
    left = float(np.sum((np.array(y) - given @ made) ** 2))
    if left <= _NOTHING * fit.syy:
        return 0.0
    return float(special.fdtrc(1, fit.n - 3, (fit.left - left) / (left / (fit.n - 3))))
