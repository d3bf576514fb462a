"""What the trimmer reads of a trim mask, on its page and on paper: how it sits, and its cuts in order."""

from dataclasses import dataclass, field, replace
from datetime import datetime

from shared.units import METRIC
from tooling.models import PartRevision, Picture, SetLine, Shop, Tool
from tooling.selectors.usable.answer import reasons
from tooling.selectors.usable.reason import Reason
from tooling.words.when import with_dates
from trimfixtures.calc.outline import Outline
from trimfixtures.calc.points import Point
from trimfixtures.models import Mask
from trimfixtures.selectors.cuts import Cut, cuts
from trimfixtures.services.mask_rules import outline_of, points_in


@dataclass(frozen=True, slots=True)
class Serves:
    """A revision of a part in whose tool set it stands; `confirmed`: somebody said that it is right for that one."""

    revision: PartRevision
    confirmed: bool


@dataclass(frozen=True, slots=True)
class TrimOf:
    """A trim mask at a moment. `mask`: None where nobody has described it.

    outline, points: None and nothing where there are none, or where they cannot be read.
    part: the revision that it is asked for. `serial`: of the part, as it was asked for.
    pictures, reasons: only where they are asked for.
    """

    tool: Tool
    at: datetime
    mask: Mask | None
    cuts: list[Cut]
    outline: Outline | None
    points: tuple[Point, ...]
    serves: list[Serves]
    part: PartRevision | None = None
    serial: str = ""
    pictures: list[Picture] = field(default_factory=list)
    reasons: list[Reason] = field(default_factory=list)
    shop: Shop | None = None

    @property
    def open(self) -> list[PartRevision]:
        """The revisions that nobody has confirmed it for."""
        return [one.revision for one in self.serves if not one.confirmed]


def trim_of(tool: Tool, at: datetime, *, units: str = METRIC) -> TrimOf:
    """A trim mask with its cuts, in a fixed number of queries."""
    mask = Mask.objects.filter(tool=tool).select_related("tool").first()
    return TrimOf(
        tool=tool,
        at=at,
        mask=mask,
        cuts=cuts(mask, units) if mask is not None else [],
        outline=outline_of(mask.outline) if mask is not None else None,
        points=points_in(mask.points) if mask is not None else (),
        serves=_serves(tool),
    )


def sheet_of(
    tool: Tool, at: datetime, *, part: PartRevision | None = None, serial: str = "", units: str = METRIC
) -> TrimOf:
    """The same with what only paper has: its pictures, and what stands against its use, for that part where one is
    asked for; every time in its words has its date.
    """
    of = trim_of(tool, at, units=units)
    number = part.part.number if part is not None else ""
    with with_dates():
        against = reasons([tool], at, part=number, revision=part, units=units)[tool.pk]
    pictures = list(Picture.objects.on().filter(tool=tool, entry=None))
    return replace(of, part=part, serial=serial, reasons=against, shop=Shop.current(), pictures=pictures)


def _serves(tool: Tool) -> list[Serves]:
    lines = SetLine.objects.filter(tool=tool).select_related("revision__part")
    ordered = sorted(lines, key=lambda one: (one.revision.part.number, -one.revision_id))
    return [Serves(one.revision, one.confirmed) for one in ordered]
