"""What the page of a tool shows of its making: each step with when, who and pictures, and the next with one tap."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shared.access import can_log
from tooling.models import Person, Picture
from tooling.selectors.in_making import InMaking, in_making, line_of_tool
from tooling.selectors.panels import Panel
from tooling.selectors.pictures import of_entries
from tooling.selectors.step_line import OnLine, StepLine
from tooling.selectors.tool import ToolPage
from tooling.words.in_making import comes_next, logged, waits_for, waits_for_it
from tooling.words.lines import Around
from tooling.words.status import making

SHEETS = ("face/making.css",)


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the line, with the pictures that were given with what was written of it."""

    step: OnLine
    pictures: list[Picture]


def panel(shown: ToolPage, person: Person) -> Panel | None:
    """None for a tool of which nobody wrote how it was made."""
    tool, around = shown.tool, Around(shown.at, shown.shop.zone)
    if shown.summary.making and not shown.summary.retired:
        one = next(iter(in_making(shown.at, [tool.pk])))
        known = known_of(one, around, may_log=can_log(person))
        # A step that another entry is stands in no column: the line knows it.
        said = making(one.step) if shown.status.status != "held" else None
        return Panel("tooling/_making_panel.html", {"making": known}, said, SHEETS, over=True)
    line = line_of_tool(tool, making=shown.summary.making)
    if line is None or not line.is_begun:
        return None
    pictures = of_entries(entry.pk for entry in line.entries)
    made = {"steps": with_pictures(line, pictures), "is_made": True}
    return Panel("tooling/_making_panel.html", {"making": made}, sheets=SHEETS)


def known_of(one: InMaking, around: Around, *, may_log: bool) -> dict[str, Any]:
    """All that is shown of a tool in the making, on its own page and among all others."""
    following = one.next_step
    # Where the next step has its button, that says it.
    coming = comes_next(one.line) if following is None or not may_log else ""
    return {
        "tool": one.tool,
        "line": one.line,
        "steps": with_pictures(one.line, one.pictures),
        "says": [*filter(None, (coming,)), *waits_for(one, around), *waits_for_it(one)],
        "next": following,
        "where": logged(following.by_entry, one.tool) if following is not None else None,
        "may_log": may_log,
    }


def with_pictures(line: StepLine, pictures: Mapping[int, list[Picture]]) -> list[Step]:
    """The steps in their order."""
    return [
        Step(one, [picture for entry in one.entries for picture in pictures.get(entry.pk, ())]) for one in line.steps
    ]
