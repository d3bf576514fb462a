"""What is lifted with a tool, from which height to which: what the page of its lift begins with."""

from dataclasses import dataclass
from decimal import Decimal

from tooling.calc.handling import HIGH_CM, LONGEST_CM
from tooling.models import Place, PlaceKind, Tool
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

    @property
    def is_bulky(self) -> bool:
        """Whether by its sizes, as far as they are known, no grip of it is a good one."""
        tool = self.tool
        longest = max(tool.length_mm or 0, tool.width_mm or 0)
        return longest > LONGEST_CM * 10 or (tool.height_mm or 0) > HIGH_CM * 10


@dataclass(frozen=True, slots=True)
class Lift:
    """What is lifted; the places on which things lie, where somebody said how high."""

    lifted: Lifted
    heights: dict[str, Place]


def lift_of(tool: Tool) -> Lift:
    """That of a tool (`selectors.tool.found`), in two queries. A part is lifted with it until it is pulled."""
    summary = tool.summary
    inside = Tool.objects.filter(summary__in_mold_of=tool, summary__retired=False).order_by("code")
    # Theirs is the height of a floor, on which things lie as on any other.
    places = in_order(Place.objects.filter(height_mm__isnull=False).exclude(kind__in=PlaceKind.FLOORS))
    heights = {place.code: place for place, _depth in places}
    lifted = Lifted(tool, (tool, *inside), summary.laid_up_at is not None)
    return Lift(lifted, heights)
