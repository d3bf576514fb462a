"""Tags, laid out in millimetres: plain words and a matrix in, boxes out. No database, no page, no browser.

One engine lays out every size: a small card, a label, a tag to hang up, a sheet of paper. Where there is no room,
letters become smaller within a range, then words are left out in the order of `facts.LEFT_OUT_FIRST`.
"""

from shared.paper.boxes import Tag
from shared.paper.qr import Matrix
from tooling.drawing.tags.facts import HeldTag, PlaceTag, ToolTag
from tooling.drawing.tags.held import draw_held
from tooling.drawing.tags.place import draw_place
from tooling.drawing.tags.tool import draw_tool


def draw(
    facts: ToolTag | PlaceTag | HeldTag, wide_mm: float, high_mm: float, *, qr: Matrix, gates: bool = False
) -> Tag:
    """The tag on a stock of that size; `gates`: with a row of empty ones, for the tally in pencil.

    Refuses a stock on which not even the code, its QR and the name have room.
    """
    if isinstance(facts, HeldTag):
        return draw_held(facts, wide_mm, high_mm, qr)
    if isinstance(facts, PlaceTag):
        return draw_place(facts, wide_mm, high_mm, qr)
    return draw_tool(facts, wide_mm, high_mm, qr, gates=gates)
