"""What a ball-end cutter leaves on a plug, how long its passes take, and whether its holder clears a wall.

Any one unit of length goes through: what goes in as inches comes out as inches.
"""

from dataclasses import dataclass
from math import acos, atan2, ceil, cos, degrees, hypot, isfinite, radians, sin, sqrt

# Sizes that went through a change of units may be this much beyond what they are held against.
_ROUNDED = 1e-9


@dataclass(frozen=True, slots=True)
class FinishingPass:
    """How often the cutter goes along, how far in all, and how long that takes at its feed."""

    passes: int
    path_length: float
    minutes: float


@dataclass(frozen=True, slots=True)
class WallClearance:
    """How far the holder stays from the wall while the ball stands at its foot; below 0 it is in the wall.

    clearance: sideways at the lower edge of the holder; from the upper edge of the wall where that lies below.
    at_holder: from the axis of the tool to the wall at that height; None where the wall ends below it.
    above: from the upper edge of the wall up to the holder; below 0 where the wall goes on beside it.
    least_stickout: with which it would just clear this wall.
    """

    clearance: float
    clears: bool
    steepest_angle_deg: float
    at_holder: float | None
    above: float
    least_stickout: float


def widest_step(ball_diameter: float, slope_deg: float = 0) -> float:
    """The step-over with which two passes of a ball just meet; beyond it, it leaves what it never touched.

    Step-over = ball_diameter · cos slope.

    Parameters:
        ball_diameter [mm]: of the ball-end cutter.
        slope_deg [°]: of the surface across the step, from 0 up to below 90.

    Returns:
        [mm] the step-over, as it is seen from above.

    Raises:
        ValueError: where the ball is not above 0 or the slope is none.

    Source: geometry.
    """
    _above_zero("ball diameter", ball_diameter)
    if not 0 <= slope_deg < 90:
        raise ValueError(f"The slope is {slope_deg}°; it goes from 0° up to below 90°.")
    return ball_diameter * cos(radians(slope_deg))


def scallop_height(step_over: float, ball_diameter: float, slope_deg: float = 0) -> float:
    """The ridge that a ball-end cutter leaves between two passes.

    On a slope the passes lie further apart along the surface than they are seen from above.

    h = R - sqrt(R² - (s / (2 cos slope))²), R = ball_diameter / 2, written so that small ridges keep their digits.

    Parameters:
        step_over [mm]: from pass to pass, seen from above; 0 leaves no ridge.
        ball_diameter [mm]: of the ball-end cutter.
        slope_deg [°]: of the surface across the step, from 0 up to below 90.

    Returns:
        [mm] the height of the ridge, square to the surface.

    Raises:
        ValueError: where the ball is not above 0, the slope is none, the step-over is below 0 or beyond `widest_step`.

    Source: geometry of two circles side by side.
    Example: a step-over of 0.030 in with a ball of 3/4 in: 0.0003 in.
    """
    widest = widest_step(ball_diameter, slope_deg)
    if not 0 <= step_over <= widest * (1 + _ROUNDED):
        raise ValueError(f"The step-over is {step_over}; with this ball and slope it goes from 0 to {widest:g}.")
    radius = ball_diameter / 2
    half = min(radius, step_over / (2 * cos(radians(slope_deg))))
    return half * half / (radius + sqrt(radius * radius - half * half))


def step_over_for(scallop: float, ball_diameter: float, slope_deg: float = 0) -> float:
    """The step-over that leaves a ridge of this height: `scallop_height` the other way round.

    s = 2 cos slope · sqrt(2 R h - h²), R = ball_diameter / 2.

    Parameters:
        scallop [mm]: the height of the ridge, from 0 to half the ball.
        ball_diameter [mm]: of the ball-end cutter.
        slope_deg [°]: of the surface across the step, from 0 up to below 90.

    Returns:
        [mm] from pass to pass, seen from above.

    Raises:
        ValueError: where the ball is not above 0, the slope is none, or no ridge is as high.

    Source: geometry of two circles side by side.
    Example: a ridge of 0.0003 in with a ball of 3/4 in: 0.030 in.
    """
    widest_step(ball_diameter, slope_deg)
    radius = ball_diameter / 2
    if not 0 <= scallop <= radius * (1 + _ROUNDED):
        raise ValueError(f"The scallop is {scallop}; with this ball it goes from 0 to {radius:g}.")
    return 2 * cos(radians(slope_deg)) * sqrt(max(0.0, scallop * (ball_diameter - scallop)))


def finishing_pass(
    width: float, length: float, step_over: float, feed_per_min: float, passes_both_ways: bool = True
) -> FinishingPass:
    """How often a cutter goes along a surface to cover it, and how long that takes.

    Passes = width / step_over, rounded up, and one more, since both rims are cut. The steps from pass to pass, what the
    machine loses at the ends and where it slows down are not in it, so that the machine takes longer. Where it cuts
    one way only, the way back is reckoned at the same feed.

    Path = passes · length, twice that where it cuts one way only. Minutes = path / feed_per_min.

    Parameters:
        width [mm]: that is covered, across the passes, seen from above as the step-over is.
        length [mm]: of one pass, along the surface.
        step_over [mm]: from pass to pass.
        feed_per_min [mm/min]: along the pass.
        passes_both_ways [-]: whether it cuts on the way back too.

    Returns:
        [-] passes, the path in mm and the minutes.

    Raises:
        ValueError: where one of them is not above 0.

    Source: common practice, no source; it is a count of lines.
    """
    for name, value in (("width", width), ("length", length), ("step-over", step_over), ("feed", feed_per_min)):
        _above_zero(name, value)
    steps = width / step_over
    # 600 / 0.6 is 1000 steps, whatever binary makes of it.
    passes = ceil(steps - _ROUNDED * max(1.0, steps)) + 1
    path = passes * length * (1 if passes_both_ways else 2)
    return FinishingPass(passes=passes, path_length=path, minutes=path / feed_per_min)


def to_wall(ball_diameter: float, wall_angle_deg: float, height: float) -> float:
    """From the axis of an upright tool to a wall that its ball touches.

    (R + z · sin d) / cos d, with R = ball_diameter / 2, z = height - R and d = 90 - wall_angle_deg.

    Parameters:
        ball_diameter [mm]: of the ball-end cutter.
        wall_angle_deg [°]: from the horizontal, above 0 up to 90 (upright).
        height [mm]: above the lowest point of the ball.

    Returns:
        [mm] the distance at that height.

    Source: geometry of a circle that touches a line.
    """
    radius, lean = ball_diameter / 2, radians(90 - wall_angle_deg)
    return (radius + (height - radius) * sin(lean)) / cos(lean)


def wall_clearance(
    ball_diameter: float, holder_diameter: float, stickout: float, wall_height: float, wall_angle_deg: float
) -> WallClearance:
    """Whether the holder of a cutter clears the steepest wall while its ball stands at the foot of it.

    The tool is upright, the wall a plane. Heights are above the lowest point of the ball. A holder that just touches
    clears. What is above the holder, and its bending, are not looked at.

    From the axis to the wall at a height z above the ball's centre: (R + z · sin d) / cos d, R = ball_diameter / 2 and
    d = 90 - wall_angle_deg; the holder begins at z = stickout - R. Clearance = that less holder_diameter / 2.

    Parameters:
        ball_diameter [mm]: of the ball-end cutter.
        holder_diameter [mm]: of the holder or chuck, the widest that comes near the wall.
        stickout [mm]: how far the cutter is out of the holder, to the lowest point of its ball.
        wall_height [mm]: from the foot, where the ball stands, up to where the wall ends.
        wall_angle_deg [°]: from the horizontal, above 0 up to 90 (upright).

    Returns:
        [mm] the clearance, whether it clears, the steepest wall as high as this that it would clear in degrees, and
        the least stickout with which it would clear this one.

    Raises:
        ValueError: where a size is not above 0, the angle is none, or the holder would begin below the ball's centre.

    Source: geometry of a circle that touches a line.
    """
    for name, value in (
        ("ball diameter", ball_diameter),
        ("holder diameter", holder_diameter),
        ("wall height", wall_height),
    ):
        _above_zero(name, value)
    radius, holder = ball_diameter / 2, holder_diameter / 2
    if not (isfinite(stickout) and stickout >= radius):
        raise ValueError(f"The stickout is {stickout}; it is at least half the ball, {radius:g}.")
    if not 0 < wall_angle_deg <= 90:
        raise ValueError(f"The wall is at {wall_angle_deg}°; it goes from above 0° to 90°, which is upright.")
    lean = radians(90 - wall_angle_deg)
    above = stickout - wall_height
    beside = to_wall(ball_diameter, wall_angle_deg, min(stickout, wall_height)) - holder
    clearance = beside if above < 0 else hypot(max(0.0, beside), above)
    return WallClearance(
        clearance=clearance,
        clears=clearance >= -_ROUNDED * holder,
        steepest_angle_deg=90.0 if above >= 0 else 90 - degrees(_least_lean(radius, holder, stickout - radius)),
        at_holder=beside + holder if above < 0 else None,
        above=above,
        least_stickout=_least_stickout(radius, holder, wall_height, lean),
    )


def _least_lean(radius: float, holder: float, z: float) -> float:
    """How far a wall leans back that a holder just touches: of (R + z sin d) / cos d = holder, d."""
    if holder <= radius:
        return 0.0
    return acos(radius / hypot(holder, z)) - atan2(z, holder)


def _least_stickout(radius: float, holder: float, wall_height: float, lean: float) -> float:
    """Beside a wall that leans back enough, else above its end."""
    if holder * cos(lean) <= radius:
        return radius
    if sin(lean) < _ROUNDED:
        return max(radius, wall_height)
    return max(radius, min(wall_height, radius + (holder * cos(lean) - radius) / sin(lean)))


def _above_zero(name: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise ValueError(f"The {name} is {value}; it is above 0.")
