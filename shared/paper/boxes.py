"""What a tag is once it is laid out: boxes at places that were worked out, because paper leaves nothing to chance."""

from dataclasses import dataclass

# Less than a printer can show: what touches does not overlap.
_TOUCH = 0.01


@dataclass(frozen=True, slots=True)
class Box:
    """What stands in one place, from its upper left corner, in mm. `html` is drawn in it, `name` says what it is.

    `look` is how words are written in it, in CSS: an element of their own would cost as much as the box.
    """

    x: float
    y: float
    wide: float
    high: float
    html: str
    name: str
    look: str = ""

    @property
    def right(self) -> float:
        return self.x + self.wide

    @property
    def bottom(self) -> float:
        return self.y + self.high

    def overlaps(self, other: "Box") -> bool:
        """Whether both cover one spot."""
        apart = (
            self.right <= other.x + _TOUCH
            or other.right <= self.x + _TOUCH
            or self.bottom <= other.y + _TOUCH
            or other.bottom <= self.y + _TOUCH
        )
        return not apart

    def markup(self) -> str:
        """It in its place, for the sheet `tag.css`."""
        place = f"left:{self.x:.2f}mm;top:{self.y:.2f}mm;width:{self.wide:.2f}mm;height:{self.high:.2f}mm"
        look = f";{self.look}" if self.look else ""
        return f'<div class="t-{self.name}" style="{place}{look}">{self.html}</div>'


@dataclass(frozen=True, slots=True)
class Tag:
    """One tag of that size; `left_out` names, in their order, what had no room on it."""

    wide: float
    high: float
    boxes: tuple[Box, ...]
    left_out: tuple[str, ...] = ()

    def named(self, name: str) -> Box | None:
        """The box of that name, if there is one."""
        return next((box for box in self.boxes if box.name == name), None)

    def html(self, x: float = 0, y: float = 0) -> str:
        """The tag with its corner there on its page."""
        place = f"left:{x:.2f}mm;top:{y:.2f}mm;width:{self.wide:.2f}mm;height:{self.high:.2f}mm"
        return f'<div class="tag" style="{place}">{"".join(box.markup() for box in self.boxes)}</div>'
