"""The outline of a part as it is after the net cut: a closed line from point to point, in mm."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import accumulate, pairwise
from math import dist

from trimfixtures.calc import corners, crossing
from trimfixtures.calc.corners import Corner, Spot
from trimfixtures.calc.numbers import DIGITS, read_number, write_number
from trimfixtures.calc.refusal import Refusal

# More than a drawing needs.
MOST_POINTS = 2000
# Two places are one where they are nearer than what a text keeps, with room for what arithmetic adds.
NEAR = 2e-6


@dataclass(frozen=True)
class Outline:
    """A closed line that does not cross itself. `points`: its corners in order, the first not said again."""

    points: tuple[Spot, ...]

    @cached_property
    def _alongs(self) -> tuple[float, ...]:
        """How far each point is along the line, and last the first again."""
        return tuple(accumulate((dist(a, b) for a, b in self._lines), initial=0.0))

    @property
    def _lines(self) -> Iterable[tuple[Spot, Spot]]:
        return zip(self.points, (*self.points[1:], self.points[0]), strict=True)

    @property
    def length(self) -> float:
        """All around, in mm."""
        return self._alongs[-1]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y, in mm."""
        across, up = zip(*self.points, strict=True)
        return min(across), min(up), max(across), max(up)

    def at(self, along: float) -> Spot:
        """Where it is so many mm along from its first point; off_outline below 0 or beyond its length."""
        if not -NEAR <= along <= self.length + NEAR:
            sentence = f"{along} mm is not on the outline, which goes from 0 to {self.length} mm."
            raise Refusal("off_outline", sentence, along=along, length=self.length)
        for (start, end), (before, after) in zip(self._lines, pairwise(self._alongs), strict=True):
            if along <= after:
                share = max(0.0, along - before) / (after - before)
                return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        return self.points[0]

    def contains(self, x: float, y: float) -> bool:
        """Whether a place (mm) is inside; on the line counts as inside."""
        is_inside = False
        for (ax, ay), (bx, by) in self._lines:
            if _off_line(x, y, (ax, ay), (bx, by)) <= NEAR:
                return True
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                is_inside = not is_inside
        return is_inside

    def off(self, x: float, y: float) -> float:
        """How far a place is from the nearest of the line, in mm, whichever side of it."""
        return min(_off_line(x, y, start, end) for start, end in self._lines)

    def inside_corners(self, radius: float) -> tuple[Corner, ...]:
        """The corners into the part that a round of that radius (mm), rolling around it, cannot follow."""
        return corners.too_sharp(self.points, radius)


def _off_line(x: float, y: float, start: Spot, end: Spot) -> float:
    across, up = end[0] - start[0], end[1] - start[1]
    share = ((x - start[0]) * across + (y - start[1]) * up) / (across * across + up * up)
    share = min(1.0, max(0.0, share))
    return dist((x, y), (start[0] + share * across, start[1] + share * up))


@lru_cache(maxsize=32)
def read_outline(text: str) -> Outline:
    """The outline that a text of points says: "0 0; 900 0; 900 300".

    It may say its first point again at its end; an idle semicolon and blank lines are passed over.

    Parameters:
        text [text]: x and y of each point in mm, with a space between them and semicolons between the points.

    Returns:
        [mm] the closed line.

    Raises:
        Refusal: `not_a_point` (with its number and text), `too_few` (below three), `too_many`, `twice` (with the
            numbers of both), `crosses_itself` (with the numbers of the points where both lines begin).

    Source: the house's own rule.
    Example: 0 0; 900 0; 900 300; 0 300 is 2400 mm around.
    """
    said, points = _points(text)
    met: dict[Spot, int] = {}
    for number, point in enumerate(points, 1):
        if (first := met.setdefault(point, number)) != number:
            sentence = f"Points {first} and {number} of the outline are the same: {said[number - 1]}."
            raise Refusal("twice", sentence, first=first, second=number, text=said[number - 1])
    if (pair := crossing.first_pair([(round(x * 10**DIGITS), round(y * 10**DIGITS)) for x, y in points])) is not None:
        first, second = pair[0] + 1, pair[1] + 1
        sentence = f"The outline crosses itself: its line after point {first} meets that after point {second}."
        raise Refusal("crosses_itself", sentence, first=first, second=second)
    return Outline(tuple(points))


@lru_cache(maxsize=256)
def around(text: str) -> float | None:
    """How long the line is that a text of points says, without looking whether it crosses itself.

    Parameters:
        text [text]: as for `read_outline`.

    Returns:
        [mm] all around; None where the text is no points.

    Source: the house's own rule.
    Example: 0 0; 900 0; 900 300; 0 300 is 2400 mm around.
    """
    try:
        return Outline(tuple(_points(text)[1])).length
    except Refusal:
        return None


def _points(text: str) -> tuple[list[str], list[Spot]]:
    """The text of each point, and its place; the first is not said again."""
    said = [one.strip() for one in text.split(";") if one.strip()]
    if len(said) > MOST_POINTS + 1:
        sentence = f"The outline has {len(said)} points, more than {MOST_POINTS}."
        raise Refusal("too_many", sentence, count=len(said), most=MOST_POINTS)
    points = [_point(number, one) for number, one in enumerate(said, 1)]
    if len(points) > 1 and points[-1] == points[0]:
        points.pop()
    if len(points) < 3:
        raise Refusal("too_few", f"The outline has {len(points)} points; it needs 3 or more.", count=len(points))
    return said, points


def _point(number: int, text: str) -> Spot:
    try:
        x, y = map(read_number, text.split())
    except ValueError as error:
        sentence = f"Point {number} of the outline, {text!r}, is not two numbers with a space between them."
        raise Refusal("not_a_point", sentence, number=number, text=text) from error
    return x, y


def write_outline(points: Iterable[Spot]) -> str:
    """The text of an outline.

    Parameters:
        points [mm]: x and y of each, in order.

    Returns:
        [text] what `read_outline` reads back.

    Raises:
        Refusal: `no_number` where one is not finite or too long.

    Source: the house's own rule.
    Example: 0 0; 900 0; 900 300
    """
    return "; ".join(f"{write_number(x)} {write_number(y)}" for x, y in points)
