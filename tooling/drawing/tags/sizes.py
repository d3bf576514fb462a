"""The proportions of a tag, from its size alone: a few for all stocks, in mm."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.paper import qr, stocks

# The label of 100 x 60 mm, by which all else is drawn larger or smaller.
WIDE, HIGH = 100.0, 60.0
# On small stock the symbol with its quiet zone leaves nearly half of the shorter side to the words.
_OF_SIDE = 0.55
# Nothing is printed nearer to the edge: what cuts a sheet is not more exact. Outside of it stand words.
EDGE = 1.0
_STEP = 0.1


@dataclass(frozen=True, slots=True)
class Sizes:
    """Of one tag: `scale` to the label, margin of the words, the mark beside the code, letters from large to small."""

    wide: float
    high: float
    scale: float
    margin: float
    gap: float
    mark_high: float
    code_most: float
    largest: float
    smallest: float

    @property
    def inner(self) -> float:
        """What the words have from side to side."""
        return self.wide - 2 * self.margin

    def letters(self) -> list[float]:
        """The sizes of words that are tried, from large to small."""
        steps = max(int((self.largest - self.smallest) / _STEP), 0)
        return [*(self.largest - step * _STEP for step in range(steps + 1)), self.smallest]

    @property
    def upright(self) -> bool:
        """Whether it stands on its short side."""
        return self.high > self.wide


def sizes_of(wide: float, high: float, large: float = 1) -> Sizes:
    """The proportions of a tag; refuses one that nobody could read. `large`: head and words larger by so much."""
    stocks.check_size(wide, high)
    across, up = (high, wide) if high > wide else (wide, high)
    scale = min(across / WIDE, up / HIGH)
    return Sizes(
        wide=wide,
        high=high,
        scale=scale,
        margin=min(max(4 * scale, 1.6), 8),
        gap=min(max(3 * scale, 1.2), 6),
        mark_high=13 * scale * large,
        code_most=15.6 * scale * large,
        largest=(4.05 if high > wide else 3.9) * min(max(scale, 0.8), 2.2) * large,
        smallest=2.5 * max(scale * 0.85, 1) if scale > 0.8 else 2.1,
    )


def symbol(sizes: Sizes, matrix: qr.Matrix) -> float:
    """The side of the QR without its quiet zone: 20 mm where the stock has room, in scale on a larger one."""
    wanted = qr.WANTED * max(sizes.scale, 1)
    room = min(sizes.wide, sizes.high) * _OF_SIDE * matrix.modules / matrix.across
    return min(wanted, max(room, qr.LEAST))


def too_small(code: str, wide: float, high: float) -> Refused:
    """The sentence for a stock that has no room."""
    message = _("%(code)s and its QR code have no room on %(wide)g × %(high)g mm: take a larger stock.")
    return Refused(message % {"code": code, "wide": wide, "high": high}, "size")
