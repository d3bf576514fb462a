"""Words one below the other, beside the QR where it is, else over the whole width."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from shared.paper.boxes import Box
from tooling.drawing.tags.runs import Text


class NoRoom(Exception):
    """What has to be said does not fit like this."""


def largest(sizes: Sequence[float], lay_out: Callable[[float], list[Box]]) -> list[Box] | None:
    """What the largest of these sizes makes that has room, or None; they go from large to small."""
    tried = [_tried(lay_out, size) for size in sizes[:1]]
    if not tried or tried[0] is not None or len(sizes) == 1:
        return tried[0] if tried else None
    best = _tried(lay_out, sizes[-1])
    too_large, fits = 0, len(sizes) - 1
    while best is not None and fits - too_large > 1:
        middle = (too_large + fits) // 2
        made = _tried(lay_out, sizes[middle])
        if made is None:
            too_large = middle
        else:
            best, fits = made, middle
    return best


def _tried(lay_out: Callable[[float], list[Box]], size: float) -> list[Box] | None:
    try:
        return lay_out(size)
    except NoRoom:
        return None


@dataclass(slots=True)
class Column:
    """A room that is filled from above; `beside`: a box in it that nothing may touch, on its right side."""

    x: float
    y: float
    wide: float
    bottom: float
    gap: float
    beside: Box | None = None
    boxes: list[Box] = field(default_factory=list)

    def put(self, name: str, text: Callable[[float], Text], after: float = 0) -> Text:
        """The text, made for the width that it has, under what is there already; NoRoom where it would run over."""
        for wide in self._widths():
            said = text(wide)
            if self._free(wide, said.high):
                break
        else:
            raise NoRoom
        self.boxes.append(Box(self.x, self.y, wide, said.high, said.html(), name, said.look))
        self.y += said.high + after
        return said

    def _widths(self) -> list[float]:
        """The whole width, and the one beside the box."""
        if self.beside is None:
            return [self.wide]
        return [self.wide, self.beside.x - self.gap - self.x]

    def _free(self, wide: float, high: float) -> bool:
        if self.y + high > self.bottom + 0.005:
            return False
        beside = self.beside
        if beside is None or self.x + wide <= beside.x:
            return wide > 0
        return self.y >= beside.bottom or self.y + high <= beside.y
