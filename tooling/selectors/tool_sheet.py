"""What the sheet of a tool says on paper: its page at a moment, in a fixed number of queries."""

from dataclasses import dataclass
from datetime import datetime

from shared.units import METRIC
from tooling.models import Entry, Picture, Tool
from tooling.selectors.holds import standing_holds
from tooling.selectors.lead_notes import unseen_of
from tooling.selectors.look_overs import LookOver, look_over
from tooling.selectors.matched import in_with
from tooling.selectors.pictures import mains
from tooling.selectors.service_limit import ServiceLimit, service_limit
from tooling.selectors.timeline import Wanted
from tooling.selectors.tool import ToolPage, page
from tooling.selectors.walk import starting_state
from tooling.selectors.work_cautions import at_work
from tooling.words.cautions import Caution

_LAST = Wanted(page=0)


@dataclass(frozen=True, slots=True)
class SheetOf:
    """A tool at a moment: its page with the last entries, and what else goes on paper.

    `holds`: what holds the surface that decides. `start`: its starting state, if it has one. `unseen`: told to the
    lead, and no lead has seen it. `cautions`: of the work with it, of which only another app knows.
    """

    page: ToolPage
    picture: Picture | None
    limit: ServiceLimit | None
    look_over: LookOver | None
    holds: list[Entry]
    start: Entry | None
    unseen: list[Entry]
    halves: list[str]
    cautions: list[Caution]


def sheet_of(tool: Tool, at: datetime, units: str = METRIC) -> SheetOf:
    """The sheet of a tool that `selectors.tool.found` gave, at a moment that is not before its last entry."""
    shown = page(tool, at, _LAST)
    on = shown.deciding
    held = standing_holds([(on.summary, on.recipe)]) if shown.held else {}
    return SheetOf(
        page=shown,
        picture=mains([tool.pk]).get(tool.pk),
        limit=service_limit(tool, at, units),
        look_over=look_over(tool, at, shown.shop.zone),
        holds=held.get(on.tool.pk, []),
        start=starting_state(tool) if tool.has_surface else None,
        unseen=unseen_of([tool.pk]),
        halves=in_with(tool, tool.summary) if shown.in_it else [],
        cautions=at_work(tool.kind, [tool.pk]),
    )
