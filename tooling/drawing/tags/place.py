"""The tag of a place: a shelf drawn beside its code, and over a thick board what it carries."""

from shared.paper.boxes import Tag
from shared.paper.letters import BOLD
from shared.paper.qr import Matrix
from tooling.drawing.tags import marks
from tooling.drawing.tags.facts import PlaceTag
from tooling.drawing.tags.sheet import Foot, Said, lay_out

# The board is what tells a place from a tool across the shop, beside the mark.
_LOAD, _BOARD = 5.6, 1.6


def draw_place(facts: PlaceTag, wide: float, high: float, matrix: Matrix) -> Tag:
    """The tag on a stock of that size."""
    # A board with nothing under it would be read as one that carries anything.
    foot = Foot("load", facts.load, _LOAD, _BOARD, BOLD) if facts.load else None
    return lay_out(Said(marks.shelf(), facts.code, facts.name, facts.lines, foot, large=1.2), wide, high, matrix)
