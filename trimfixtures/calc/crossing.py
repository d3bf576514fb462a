"""Whether a closed line of points meets itself. In whole numbers, so that touching is never a matter of rounding."""

from bisect import bisect_left
from collections.abc import Sequence

Whole = tuple[int, int]
# A line from its lesser end to its greater one, by x and at the same x by y, so that none stands upright.
_Line = tuple[Whole, Whole, int]


def first_pair(points: Sequence[Whole]) -> tuple[int, int] | None:
    """Two lines of a closed outline that cross, touch or lie on each other; neighbours may share their corner only.

    An upright line goes from left to right over all corners and keeps the lines that it crosses in their order from
    below. Only lines that come to be neighbours there can be the first to meet: of 2,000 lines few are compared.

    Parameters:
        points [1e-6 mm]: its corners, no two the same.

    Returns:
        [-] the indexes of the points where the two begin, the smaller first; None where there are none.

    Source: M. I. Shamos and D. Hoey, Geometric intersection problems (1976), from memory.
    Example: (0, 0) (2, 2) (2, 0) (0, 2): the first and the third.
    """
    count = len(points)
    for i in range(count):
        if _turns_back(points[i - 1], points[i], points[(i + 1) % count]):
            return _pair((i - 1) % count, i)
    lines: list[_Line] = []
    for i, start in enumerate(points):
        end = points[(i + 1) % count]
        lines.append((min(start, end), max(start, end), i))
    crossed: list[_Line] = []
    for i in sorted(range(count), key=points.__getitem__):
        if (found := _pass(crossed, points[i], i, (lines[i - 1], lines[i]))) is not None:
            return found
    return None


def _pass(crossed: list[_Line], corner: Whole, index: int, own: tuple[_Line, _Line]) -> tuple[int, int] | None:
    """Goes over a corner: its lines that end there are taken out, those that begin there are put in."""
    first = last = bisect_left(crossed, 0, key=lambda line: -_side(line[0], line[1], corner))
    while last < len(crossed) and _side(crossed[last][0], crossed[last][1], corner) == 0:
        if crossed[last] not in own:
            return _pair(crossed[last][2], index)
        last += 1
    begin = [line for line in own if line[0] == corner]
    if len(begin) == 2 and _side(corner, begin[0][1], begin[1][1]) < 0:
        begin.reverse()
    crossed[first:last] = begin
    for below in {first - 1, first - 1 + len(begin)}:
        if below < 0 or below + 1 >= len(crossed):
            continue
        one, other = crossed[below], crossed[below + 1]
        if _meet(one, other):
            return _pair(one[2], other[2])
    return None


def _pair(one: int, other: int) -> tuple[int, int]:
    return min(one, other), max(one, other)


def _meet(one: _Line, other: _Line) -> bool:
    """Whether they cross or touch. A corner that they share has been looked at by itself."""
    (a, b, _i), (c, d, _j) = one, other
    if {a, b} & {c, d}:
        return False
    first, second, third, fourth = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if ((first > 0) != (second > 0)) and ((third > 0) != (fourth > 0)) and 0 not in (first, second, third, fourth):
        return True
    return any(
        side == 0 and start <= spot <= end
        for side, start, end, spot in ((first, a, b, c), (second, a, b, d), (third, c, d, a), (fourth, c, d, b))
    )


def _turns_back(before: Whole, corner: Whole, after: Whole) -> bool:
    """Whether a line runs back along the one before it."""
    forward = (corner[0] - before[0]) * (after[0] - corner[0]) + (corner[1] - before[1]) * (after[1] - corner[1])
    return forward < 0 and _side(before, corner, after) == 0


def _side(a: Whole, b: Whole, c: Whole) -> int:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
