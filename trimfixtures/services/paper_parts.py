"""What the sheets of trim masks have in common on paper: the part from above at a scale."""

from collections.abc import Sequence
from typing import Any

from tooling.services.on_paper import at_scale
from trimfixtures.calc.outline import Outline
from trimfixtures.drawing import plan
from trimfixtures.words.trim_sheet import plan_scale


def seen_from_above(outline: Outline | None, wide: float, cuts: Sequence[Any] = ()) -> dict[str, Any]:
    """How wide the part from above stands in so much room, and its scale; nothing where there is no picture of it."""
    millimetre = plan.millimetre(outline, cuts)
    if millimetre is None:
        return {}
    times, wide = at_scale(plan.WIDE / millimetre, wide)
    return {"wide": wide, "scale": plan_scale(times)}
