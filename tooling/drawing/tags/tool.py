"""The tag of a tool: its kind from afar, its code, what a hand wants to know before it touches it."""

from shared.paper.boxes import Tag
from shared.paper.qr import Matrix
from tooling.drawing.tags import marks
from tooling.drawing.tags.facts import ToolTag
from tooling.drawing.tags.sheet import Foot, Said, lay_out

_CAUTION, _RULE = 2.75, 0.25


def draw_tool(facts: ToolTag, wide: float, high: float, matrix: Matrix, *, gates: bool) -> Tag:
    """The tag on a stock of that size."""
    foot = Foot("caution", facts.caution, _CAUTION, _RULE)
    pulls = facts.pulls if gates else ""
    return lay_out(Said(marks.kind(facts.kind), facts.code, facts.name, facts.lines, foot, pulls), wide, high, matrix)
