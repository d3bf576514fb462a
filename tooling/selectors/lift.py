"""What is lifted with a tool, from which height to which: what the page of its lift begins with."""

from dataclasses import dataclass
from decimal import Decimal

from tooling.models import Place, Tool
from tooling.selectors.place_tree import in_order


@dataclass(frozen=True, slots=True)
class Lifted:
    """The tools that go up together, itself first; whether a part is in it, whose mass nobody knows."""

    tool: Tool
    together: tuple[Tool, ...]
    part_in: bool

    @property
    def unweighed(self) -> list[str]:
        """The codes of those without a mass."""
        return [one.code for one in self.together if one.mass_kg is None]

    @property
    def kg(self) -> Decimal:
        """What is known of it."""
        return sum((one.mass_kg for one in self.together if one.mass_kg is not None), Decimal(0))

    @property
    def is_whole(self) -> bool:
        """Whether that is all of it."""
        return not self.unweighed and not self.part_in


@dataclass(frozen=True, slots=True)
class Lift:
    """What is lifted; the places of which somebody said how high they lie; where it lies and where it belongs."""

    lifted: Lifted
    heights: dict[str, Place]
    lies: str
    home: str


def lift_of(tool: Tool) -> Lift:
    """That of a tool (`selectors.tool.found`), in two queries. A part is lifted with it until it is pulled."""
    summary = tool.summary
    inside = Tool.objects.filter(summary__in_mold_of=tool, summary__retired=False).order_by("code")
    places = in_order(Place.objects.filter(height_mm__isnull=False))
    heights = {place.code: place for place, _depth in places}
    by_key: dict[int | None, str] = {place.pk: place.code for place in heights.values()}
    lifted = Lifted(tool, (tool, *inside), summary.laid_up_at is not None)
    return Lift(lifted, heights, by_key.get(summary.lies, ""), by_key.get(summary.home_id, ""))
