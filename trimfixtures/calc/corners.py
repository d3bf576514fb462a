"""Corners of an outline that go into the part, and whether a round that rolls along it can follow them."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise, product
from math import atan2, cos, dist, radians, tan

from trimfixtures.calc.refusal import above_zero

Spot = tuple[float, float]

# An arc is kept as points. The house's own, no source: they are an arc where the line turns by no more than this at
# each, and stands off the arc by no more than this.
MOST_TURN = radians(30.1)
MOST_OFF_MM = 0.25
# What a round may leave of a corner before it counts as one that it cannot follow: less than is checked at a bench.
LEFT_MM = 0.1
# Points nearer to each other are one: what a drawing program rounds off makes no corner.
ONE_MM = 0.05
# Below this a point lies on a straight line.
STRAIGHT = 1e-6
# An arc that turns further closes on the round: how much it would leave grows beyond all bounds.
WIDEST = radians(150)
# A bend may be tighter in one place than all along: it is looked at in windows that turn so far.
WINDOWS = tuple(map(radians, (10, 20, 30, 60, 90, 150, 360)))


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner into the part: where it is, how far along the outline, its radius (0: bare). All in mm."""

    x: float
    y: float
    along: float
    radius: float


@dataclass(frozen=True, slots=True)
class _Bend:
    """A point where the line turns: by how much into the part, and how far the next such point is."""

    corner: Corner
    turn: float
    onward: float


def too_sharp(points: Sequence[Spot], radius: float) -> tuple[Corner, ...]:
    """The corners into the part that a round, rolling around it, cannot follow, in the order of the outline.

    A bare corner has the radius 0. Points that lie close on an arc are an arc: its radius is the length of its chords
    over what they turn. A round of radius r leaves (r - R) (1 / cos(turn / 2) - 1) of an arc of radius R.

    Parameters:
        points [mm]: the corners of the closed outline, the first not said again.
        radius [mm]: of the round, half a bushing's diameter.

    Returns:
        [mm] place, distance along the outline and radius of each.

    Raises:
        Refusal: `not_above_zero` where the radius is not above 0.

    Source: geometry of tangent circles; what counts as an arc is the house's own rule.
    Example: a square notch, 6 mm round: both corners of its floor, each with the radius 0.
    """
    above_zero(radius=radius)
    found = [corner for run in _runs(_bends(points)) for corner in _sharp(run, radius)]
    return tuple(sorted(found, key=lambda corner: corner.along))


def _bends(points: Sequence[Spot]) -> list[_Bend]:
    """Every point where the line turns. A turn is above 0 where it goes into the part."""
    alongs = list(accumulate((dist(a, b) for a, b in pairwise(points)), initial=0.0))
    around = alongs[-1] + dist(points[-1], points[0])
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*points, points[0])))
    apart = _apart(points)
    turned = []
    for i, index in enumerate(apart):
        x, y = points[index]
        turn = _turn(points[apart[i - 1]], (x, y), points[apart[(i + 1) % len(apart)]]) * (-1 if area > 0 else 1)
        if abs(turn) > STRAIGHT:
            turned.append((Corner(x, y, alongs[index], 0.0), turn))
    return [
        _Bend(corner, turn, (after.along - corner.along) % around)
        for (corner, turn), (after, _) in pairwise((*turned, *turned[:1]))
    ]


def _apart(points: Sequence[Spot]) -> list[int]:
    """The indexes of the points that are not one with the point before them."""
    found = [0]
    for index in range(1, len(points)):
        if dist(points[index], points[found[-1]]) >= ONE_MM and dist(points[index], points[0]) >= ONE_MM:
            found.append(index)
    return found


def _turn(before: Spot, at: Spot, after: Spot) -> float:
    """To the left in radians, from -pi to pi."""
    ax, ay, bx, by = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    return atan2(ax * by - ay * bx, ax * bx + ay * by)


def _is_arc(one: _Bend, after: _Bend) -> bool:
    """Whether the line between two bends is the chord of an arc."""
    if not (0 < one.turn <= MOST_TURN and 0 < after.turn <= MOST_TURN):
        return False
    return one.onward / 2 * tan(max(one.turn, after.turn) / 4) <= MOST_OFF_MM


def _runs(bends: list[_Bend]) -> Iterator[list[_Bend]]:
    """The bends into the part, those of one arc together."""
    start = next((i for i in range(len(bends)) if not _is_arc(bends[i - 1], bends[i])), 0)
    run: list[_Bend] = []
    for bend in bends[start:] + bends[:start]:
        if run and not _is_arc(run[-1], bend):
            yield run
            run = []
        if bend.turn > 0:
            run.append(bend)
    if run:
        yield run


def _sharp(run: list[_Bend], radius: float) -> Iterator[Corner]:
    """Where a round leaves most of an arc or corner; further places where they are a round apart."""
    turns = list(accumulate((bend.turn for bend in run), initial=0.0))
    lengths = list(accumulate((bend.onward for bend in run[:-1]), initial=0.0))
    taken: list[tuple[float, float]] = []
    for _left, first, last, own in sorted(_windows(turns, lengths, radius), reverse=True):
        start, end = lengths[first], lengths[last]
        if all(end < before - radius or start > after + radius for before, after in taken):
            taken.append((start, end))
            yield replace(run[(first + last) // 2].corner, radius=own)


def _windows(turns: list[float], lengths: list[float], radius: float) -> Iterator[tuple[float, int, int, float]]:
    """How much is left of a stretch of an arc, its first and last bend, and its radius."""
    count = len(lengths)
    for first, window in product(range(count), WINDOWS):
        last = max(first, min(bisect_left(turns, turns[first] + window), count) - 1)
        if last == first and count > 1:
            continue
        # Of what the line turns at a point inside the arc, half is on either side of it.
        turn = turns[last + 1] - turns[first]
        turn -= (turns[first + 1] - turns[first]) / 2 * (first > 0)
        turn -= (turns[last + 1] - turns[last]) / 2 * (last < count - 1)
        own = (lengths[last] - lengths[first]) / turn
        left = (radius - own) * (1 / cos(min(turn, WIDEST) / 2) - 1)
        if left > LEFT_MM:
            yield left, first, last, own
