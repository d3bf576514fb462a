"""Places along an outline where a cut edge is checked, and what was found there."""

from collections.abc import Iterable
from dataclasses import dataclass

from trimfixtures.calc.numbers import read_number, write_number
from trimfixtures.calc.refusal import Refusal

IN, OUT = "in", "out"
# A word that is not in a name, since it divides one from what follows.
_SIGNS = "@:;"


@dataclass(frozen=True, slots=True)
class Point:
    """A named place, so many mm along the outline; None where that is not known.

    deviation: what was measured, in mm: + material left outside the line, - cut too deep. within: in or out against a
    gauge. Neither: nothing was looked at yet.
    """

    name: str
    along: float | None = None
    deviation: float | None = None
    within: bool | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise Refusal("no_name", "A point has no name.")
        if sign := next((sign for sign in _SIGNS if sign in self.name), ""):
            raise Refusal("sign_in_name", f"The name {self.name!r} has the sign {sign}.", name=self.name, sign=sign)
        if self.along is not None and not self.along >= 0:
            sentence = f"{self.name!r} is {self.along} mm along the outline; it is 0 or more."
            raise Refusal("below_zero", sentence, name=self.name, along=self.along)


def read_points(text: str) -> tuple[Point, ...]:
    """The points that a text says: "bow @ 0; stern @ 900", or "bow @ 0: +0.3; stern @ 900: in; keel: out".

    Parameters:
        text [text]: of each point its name, @ and mm along the outline, : and what was found, with semicolons between.

    Returns:
        [mm] the points in the order of the text; none for an empty one.

    Raises:
        Refusal: `no_name`, `sign_in_name`, `no_number`, `below_zero`, `name_twice` (in any case).

    Source: the house's own rule.
    Example: stern @ 900: in
    """
    points = tuple(_point(one.strip()) for one in text.split(";") if one.strip())
    return _each_once(points)


def _each_once(points: tuple[Point, ...]) -> tuple[Point, ...]:
    met: set[str] = set()
    for point in points:
        if (name := point.name.strip().casefold()) in met:
            raise Refusal("name_twice", f"Two points are called {point.name!r}.", name=point.name)
        met.add(name)
    return points


def _point(text: str) -> Point:
    place, colon, found = text.partition(":")
    name, at, along = place.partition("@")
    within = {IN: True, OUT: False}.get(found.strip().casefold())
    return Point(
        name=" ".join(name.split()),
        along=read_number(along) if at else None,
        deviation=read_number(found) if colon and within is None else None,
        within=within,
    )


def write_points(points: Iterable[Point]) -> str:
    """The text of some points.

    Parameters:
        points [mm]: in their order; what was measured stands before in or out.

    Returns:
        [text] what `read_points` reads back.

    Raises:
        Refusal: `no_number` where one is not finite or too long, `name_twice`.

    Source: the house's own rule.
    Example: bow @ 0: +0.3; keel: out
    """
    return "; ".join(map(_text, _each_once(tuple(points))))


def _text(point: Point) -> str:
    text = " ".join(point.name.split())
    if point.along is not None:
        text += f" @ {write_number(point.along)}"
    if point.deviation is not None:
        number = write_number(point.deviation)
        return f"{text}: {number if number == '0' or number[0] == '-' else f'+{number}'}"
    return text if point.within is None else f"{text}: {IN if point.within else OUT}"
