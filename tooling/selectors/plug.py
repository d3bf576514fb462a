"""What is known of how a plug was milled, and of what was done to it by hand, in a fixed number of queries."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import ClassVar

from tooling.calc.milling import FinishingPass, WallClearance, finishing_pass, scallop_height, wall_clearance
from tooling.models import Entry, Kind, MillingPass, Pass, Picture, PlugRecord, Shop, Tool
from tooling.words.plug_changes import ALIKE

# Entries of the making that a page shows: no plug has more, and a page stays quick.
MOST = 200


@dataclass(frozen=True, slots=True)
class PassOf:
    """A pass with what follows from it, in mm; None where a size is not known.

    planned: of roughing the time of one level. with_room: as `wall`, of a holder and a wall that are ROOM_MM larger on
    every side.
    """

    # Less than this between holder and wall is used up by setting the cutter by hand: no source, a choice.
    ROOM_MM: ClassVar[float] = 1.0

    row: MillingPass
    scallop_mm: float | None
    planned: FinishingPass | None
    wall: WallClearance | None
    with_room: WallClearance | None

    @property
    def clears(self) -> bool:
        """Whether the holder is known to clear the wall, with room left: touching is not clear."""
        return self.with_room is not None and self.with_room.clears


@dataclass(frozen=True, slots=True)
class PlugOf:
    """A plug at a moment. `record`: None where nobody has described it. `like`: the plug that it was set up like.

    work: what was done by hand and what was measured on the surface, in order of work.
    """

    tool: Tool
    at: datetime
    shop: Shop
    record: PlugRecord | None
    passes: list[PassOf]
    work: list[Entry]
    like: Tool | None


def plug_of(tool: Tool, at: datetime) -> PlugOf:
    """All of one plug."""
    work = Entry.objects.filter(tool=tool, kind__in=("making", "reading")).standing().select_related("by")
    return PlugOf(
        tool=tool,
        at=at,
        shop=Shop.current(),
        record=record_of(tool),
        passes=passes_of(tool),
        work=list(work.order_by("at", "id")[:MOST]),
        like=_like(tool),
    )


def record_of(tool: Tool) -> PlugRecord | None:
    """How it sat on the machine; None where nobody has described it."""
    return PlugRecord.objects.filter(tool=tool).select_related("picture").first()


def passes_of(tool: Tool) -> list[PassOf]:
    """Its passes in their order, each with its numbers."""
    return [pass_of(row) for row in tool.milling_passes.all()]


def pass_of(row: MillingPass) -> PassOf:
    """The numbers of one pass."""
    slope, both_ways = float(row.slope_deg or 0), row.both_ways
    ball, over = _of(row, row.OF_SCALLOP), _of(row, row.OF_TIME)
    wall = _of(row, row.OF_WALL)
    return PassOf(
        row=row,
        scallop_mm=scallop_height(ball[1], ball[0], slope) if ball and row.kind in Pass.BALL else None,
        planned=finishing_pass(*over, passes_both_ways=both_ways) if over else None,
        wall=wall_clearance(*wall) if wall else None,
        with_room=_with_room(*wall) if wall else None,
    )


def _with_room(ball: float, holder: float, out: float, height: float, angle: float) -> WallClearance:
    return wall_clearance(ball, holder + 2 * PassOf.ROOM_MM, out, height + PassOf.ROOM_MM, angle)


def pictures_of(tool: Tool) -> list[Picture]:
    """Those of the tool itself that may show how it sat."""
    return list(Picture.objects.on().filter(tool=tool, entry=None))


def to_set_up(tool: Tool) -> list[Tool]:
    """The plugs of which nothing is said yet, that this one may be copied to: those in the making first."""
    plugs = Tool.objects.filter(kind=Kind.PLUG, plug=None, milling_passes=None, summary__retired=False)
    return list(plugs.exclude(pk=tool.pk).order_by("-summary__making", "code")[:MOST])


def _of(row: MillingPass, names: tuple[str, ...]) -> list[float]:
    """These sizes as plain numbers; none of them where one lacks."""
    found: list[Decimal | None] = [getattr(row, name) for name in names]
    return [float(one) for one in found if one is not None] if None not in found else []


def _like(tool: Tool) -> Tool | None:
    change = tool.changes.filter(field=ALIKE).order_by("-at", "-pk").first()
    return Tool.objects.filter(code=change.after).first() if change is not None else None
