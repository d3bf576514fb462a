"""The shapes and words that the sections of a family are put together from, each in a field of its own."""

from collections.abc import Sequence
from typing import Any

from tooling.drawing.ink import LETTERS, Point, hatched, line, long, word
from tooling.drawing.lines import curve

WIDE, HIGH = 206.0, 216.0
CODE, SOFT = 16.0, 14.0
MIDDLE = WIDE / 2
# Where words no longer fit into one section, and as many others off the same plug as are hinted at.
NARROW, HINTED = WIDE - 6, 3


def codes(tools: Sequence[Any], *, of: float = CODE, room: float = NARROW) -> str:
    """As many codes as fit, and how many more."""
    every = [one.code for one in tools]
    for shown in range(len(every), 0, -1):
        more = len(every) - shown
        said = ", ".join(every[:shown]) + (f" +{more}" if more else "")
        if shown == 1 or long(said, of, bold=True) <= room:
            return said
    return ""


def named(words: str, y: float, *, boxed: bool = False) -> str:
    """A code under or over its section, smaller where it is long."""
    size = min(CODE, CODE * NARROW / max(long(words, CODE, bold=True), 1))
    return word(MIDDLE, y, words, anchor="middle", bold=True, of=round(size, 1), boxed=boxed)


def below(words: str, y: float) -> str:
    """Soft words in the middle."""
    size = min(SOFT, max(LETTERS - 2, SOFT * NARROW / max(long(words, SOFT), 1)))
    return word(MIDDLE, y, words, anchor="middle", of=round(size, 1))


def way(points: Sequence[Point]) -> str:
    """An open line through these points."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def solid(base: float) -> list[Point]:
    """The outline of a plug on its board."""
    return [(42.0, base), *curve((42, base), (54, base - 92), (152, base - 92), (164, base))[1:]]


def dome(base: float, out: float) -> list[Point]:
    """The back of a shell over a plug; `out` further out."""
    return curve(
        (31 - out, base), (42 - out, base - 104 - 1.33 * out), (164 + out, base - 104 - 1.33 * out), (175 + out, base)
    )


def hollow(base: float) -> list[Point]:
    """The face of that shell."""
    return curve((168, base - 1), (156, base - 98), (50, base - 98), (38, base - 1))


def hints(others: int) -> list[float]:
    """How far out others off the same plug are hinted at."""
    return [7.0 * (n + 1) for n in range(min(max(others, 0), HINTED))]


def board(base: float) -> str:
    """The building board."""
    return line(f"M6 {base + 3:g}H200M6 {base + 3:g}V{base + 14:g}M200 {base + 3:g}V{base + 14:g}")


def cup_points(top: float, deep: float) -> list[Point]:
    """The outline of a mold, open side up."""
    outer = curve((30, top + 11), (42, top + 53 + deep), (164, top + 53 + deep), (176, top + 11))
    inner = curve((170, top), (157, top + 34 + deep), (49, top + 34 + deep), (36, top))
    return [(6.0, top + 11), *outer, (200.0, top + 11), (200.0, top), *inner, (6.0, top)]


def cup_shape() -> str:
    """A mold in section."""
    return hatched(cup_points(79, 60), 8, -1)


def filling(child: Any) -> str:
    """What was made in a mold: solid, or a shell of its own."""
    inside = curve((166, 79), (154, 168), (52, 168), (40, 79))
    if child.kind == "plug":
        return hatched([(18.0, 74.0), (188.0, 74.0), (188.0, 79.0), *inside, (18.0, 79.0)], 13)
    inner = curve((54, 74), (62, 150), (144, 150), (152, 74))
    return hatched([(18.0, 74.0), *inner, (188.0, 74.0), (188.0, 79.0), *inside, (18.0, 79.0)], 7)


def left_piece() -> list[Point]:
    """A mold insert at the left side of a mold."""
    return [(39.0, 82.0), (66.0, 82.0), (70.0, 106.0), (47.0, 106.0)]


def template() -> str:
    """A trim mask over the part, and where it is cut."""
    left: list[Point] = [(10.0, 52.0), (70.0, 52.0), (70.0, 62.0), (10.0, 62.0)]
    plates = [left, [(WIDE - x, y) for x, y in left]]
    cuts = line("M76 44V76M130 44V76", chalk=True, dash="6 4")
    return "".join(hatched(plate, 7) for plate in plates) + line("M70 28L52 50M136 28L154 50", wide=1.1) + cuts
