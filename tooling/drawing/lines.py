"""Lines that the drawings share: curves as points, closed outlines, and hatching as a drawing office does it."""

from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]


def curve(start: Point, pull_1: Point, pull_2: Point, end: Point, steps: int = 14) -> list[Point]:
    """A cubic curve as `steps` + 1 points, so that hatching can be cut along it."""

    def at(t: float) -> Point:
        a, b, c, d = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
        x, y = (a * start[i] + b * pull_1[i] + c * pull_2[i] + d * end[i] for i in (0, 1))
        return x, y

    return [at(i / steps) for i in range(steps + 1)]


def outline(points: Sequence[Point]) -> str:
    """The closed path round `points`."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z"


def hatching(points: Sequence[Point], step: float, way: int = 1) -> str:
    """45-degree lines inside a closed outline, `step` apart; `way` 1 or -1 leans them.

    Plain segments and no clipping: paper does not clip, and a page of many pictures then needs no ids.
    """
    turned = [(x - way * y, way * x + y) for x, y in points]  # hatch lines become u = constant
    us = [u for u, _v in turned]
    drawn = ""
    u = min(us) // step * step + step / 2
    while u < max(us):
        cuts = sorted(
            v1 + (u - u1) / (u2 - u1) * (v2 - v1)
            for (u1, v1), (u2, v2) in pairwise([*turned, turned[0]])
            if (u1 <= u) != (u2 <= u)
        )
        for v1, v2 in zip(cuts[::2], cuts[1::2], strict=True):
            if v2 - v1 > 1:
                (xa, ya), (xb, yb) = (((u + way * v) / 2, (v - way * u) / 2) for v in (v1, v2))
                drawn += f"M{xa:.1f} {ya:.1f}L{xb:.1f} {yb:.1f}"
        u += step
    return drawn


def torn_strip(start: Point, end: Point, half: float, tear: tuple[Sequence[float], Sequence[float]]) -> str:
    """Points of a strip of tape from `start` to `end`; `tear`: how far five points of each end stand in."""
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    points = []
    for (x, y), side, cuts in (((x1, y1), 1, tear[0]), ((x2, y2), -1, tear[1])):
        for i, cut in enumerate(cuts):
            across = side * half * (i / 2 - 1)
            points.append((x + ux * cut - uy * across, y + uy * cut + ux * across))
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
