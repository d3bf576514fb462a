"""The code, as large as its letters allow: on one line, else on two."""

import re
from dataclasses import dataclass

from shared.paper.letters import BOLD, CAPITAL, width

# Capitals that are read at 2 m. An eye of acuity 1.0 tells a sign apart that is 5 minutes of arc tall (the optotype of
# ISO 8596): 2.9 mm at 2 m. Twice that is for dim racks and older eyes: common practice, no source.
READABLE = 6.0
# Below this a code is hard to read even at arm's length (0.7 m: 2.1 mm by the same rule), and no tag is drawn.
LEAST = 2.2
# A line of capitals alone, of the em, and each line of several: what hangs below small letters is not needed.
_ONE, _SEVERAL = 0.76, 0.94
# What two lines take that are read from afar.
TWO_READABLE = 2 * _SEVERAL * READABLE / CAPITAL + 0.01
_SPARE = 0.985


@dataclass(frozen=True, slots=True)
class Code:
    """A code in its lines; `size` is that of the em."""

    lines: tuple[str, ...]
    size: float

    @property
    def capital(self) -> float:
        """How tall its letters are."""
        return self.size * CAPITAL

    @property
    def leading(self) -> float:
        """From line to line, of the em."""
        return _ONE if len(self.lines) == 1 else _SEVERAL

    @property
    def high(self) -> float:
        """What its lines take."""
        return len(self.lines) * self.size * self.leading

    @property
    def wide(self) -> float:
        """Its widest line."""
        return max(width(line, self.size, BOLD) for line in self.lines)

    @property
    def look(self) -> str:
        """How its box is written in."""
        return f"font-size:{self.size:.2f}mm;line-height:{self.leading:g};font-weight:{BOLD}"

    def html(self) -> str:
        """It as it goes into its box."""
        return "<br>".join(self.lines)


def fitted(code: str, wide: float, high: float, most: float, *, several: float | None = None) -> Code:
    """The code in a room; on two lines only where they are larger and one is not read from afar.

    most: the largest em. several: how high the room is where the code takes two lines; None: as high.
    """
    one = _sized((code,), wide, high, most)
    if one.capital >= READABLE:
        return one
    both = [_sized(lines, wide, several or high, most) for lines in _broken(code)]
    # What is broken at a sign or before a number is read as one code; anywhere else only where it helps much.
    return max((one, *both), key=lambda tried: (min(tried.capital, READABLE), -len(tried.lines)))


def _sized(lines: tuple[str, ...], wide: float, high: float, most: float) -> Code:
    leading = _ONE if len(lines) == 1 else _SEVERAL
    widest = max(width(line, 1, BOLD) for line in lines)
    return Code(lines, min(most, wide * _SPARE / widest, high / (len(lines) * leading)))


def _broken(code: str) -> list[tuple[str, str]]:
    """The code in two: behind a sign, else where letters meet numbers, else in its middle; what is even comes first."""
    places = [found.end() for found in re.finditer(r"[-.](?=.)", code) if found.end() > 1]
    if not places:
        places = [found.end() for found in re.finditer(r"[A-Z](?=\d)|\d(?=[A-Z])", code)]
    if not places and len(code) > 1:
        places = [(len(code) + 1) // 2]
    return sorted(((code[:at], code[at:]) for at in places), key=lambda two: max(width(one, 1, BOLD) for one in two))
