"""What the sheets of trim masks have in common on paper: their head, and the part from above at a scale."""

from collections.abc import Sequence
from typing import Any

from tooling.models import Tool
from tooling.services.on_paper import Paper, around, fitted
from trimfixtures.calc.outline import Outline
from trimfixtures.drawing import plan
from trimfixtures.words.trim_sheet import plan_scale

MARGINS = 26  # mm at both sides
_BESIDE = 39  # mm of the head that its code for a phone takes
# How large a picture is drawn, of its true size
_SMALLER = (200, 150, 120, 100, 80, 60, 50, 40, 30, 25, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5)
_SCALES = (*(1 / one for one in _SMALLER), 1, 1.25, 1.5, 2, 2.5, 3, 4, 5)


def headed(tool: Tool, address: str, *, shop: Any, who: str, paper: Paper, largest: float = 17) -> dict[str, Any]:
    """What `pdf/of_trim_mask.html` is given besides the words."""
    return {
        **around(address, shop=shop, who=who, paper=paper),
        "tool": tool,
        "code_size": fitted(tool.code, paper.width - MARGINS - _BESIDE, largest=largest, smallest=8),
    }


def seen_from_above(outline: Outline | None, wide: float, cuts: Sequence[Any] = ()) -> dict[str, Any]:
    """How wide the part from above stands in so much room, and its scale; nothing where there is no picture of it."""
    millimetre = plan.millimetre(outline, cuts)
    if millimetre is None:
        return {}
    times, wide = at_scale(plan.WIDE / millimetre, wide)
    return {"wide": wide, "scale": plan_scale(times)}


def at_scale(whole: float, most: float) -> tuple[float, float]:
    """The largest scale at which a picture that is so wide at 1 : 1 is no wider than there is room, and its width."""
    times = max((one for one in _SCALES if one * whole <= most), default=most / whole)
    return times, times * whole
