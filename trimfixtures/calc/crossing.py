"""Whether a closed line of points meets itself. In whole numbers, so that touching is never a matter of rounding."""

from collections.abc import Sequence

Whole = tuple[int, int]


def first_pair(points: Sequence[Whole]) -> tuple[int, int] | None:
    """Two lines of a closed outline that cross, touch or lie on each other; neighbours may share their corner only.

    Lines are compared where they share a stretch of x: sorted by where each begins there.

    Parameters:
        points [1e-6 mm]: its corners, no two the same.

    Returns:
        [-] the indexes of the points where the two begin, the smaller first; None where there are none.

    Source: orientation of three points, a common test of computational geometry; no source.
    Example: (0, 0) (2, 2) (2, 0) (0, 2): the first and the third.
    """
    count = len(points)
    ends = [(points[i], points[(i + 1) % count]) for i in range(count)]
    ordered = sorted(range(count), key=lambda i: min(ends[i][0][0], ends[i][1][0]))
    going: list[int] = []
    for i in ordered:
        begins = min(ends[i][0][0], ends[i][1][0])
        going = [j for j in going if max(ends[j][0][0], ends[j][1][0]) >= begins]
        for j in going:
            low, high = min(i, j), max(i, j)
            if _meet(ends, low, high):
                return low, high
        going.append(i)
    return None


def _meet(ends: list[tuple[Whole, Whole]], low: int, high: int) -> bool:
    if high - low == 1:
        return _turns_back(ends[low], ends[high])
    if low == 0 and high == len(ends) - 1:
        return _turns_back(ends[high], ends[low])
    (a, b), (c, d) = ends[low], ends[high]
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    first, second, third, fourth = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if ((first > 0) != (second > 0)) and ((third > 0) != (fourth > 0)) and 0 not in (first, second, third, fourth):
        return True
    return any(
        side == 0 and _within(start, end, spot)
        for side, start, end, spot in ((first, a, b, c), (second, a, b, d), (third, c, d, a), (fourth, c, d, b))
    )


def _turns_back(one: tuple[Whole, Whole], after: tuple[Whole, Whole]) -> bool:
    """Whether a line runs back along the one before it."""
    (a, b), c = one, after[1]
    forward = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return forward < 0 and _side(a, b, c) == 0


def _side(a: Whole, b: Whole, c: Whole) -> int:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _within(a: Whole, b: Whole, spot: Whole) -> bool:
    """Whether a place on the endless line through both lies between them."""
    is_across = min(a[0], b[0]) <= spot[0] <= max(a[0], b[0])
    return is_across and min(a[1], b[1]) <= spot[1] <= max(a[1], b[1])
