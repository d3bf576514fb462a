"""The sheet of a tool as a PDF of one page."""

from bisect import bisect_left
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

from shared.paper import document, letters, qr
from shared.pieces import in_pieces
from tooling.selectors.tool_sheet import SheetOf
from tooling.services.on_paper import Paper, around, css, fitted, in_rows, inside
from tooling.words.tool_sheet import ROOMS, Sheet, sheet

_BESIDE = 66  # mm of the head that its marks take, and the margins around all


def draw(of: SheetOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet, with less and less on it until it is one page; writes nothing.

    Refuses where paper cannot be drawn on this machine.
    """
    always = _always(of, who, paper)
    tried: dict[int, Any] = {}

    def fits(number: int) -> bool:
        tried[number] = document.laid_out(_html(sheet(of, units, ROOMS[number]), always), css=css())
        return len(tried[number].pages) == 1

    # Most tools fit as they are; for the others the rooms are halved, since each try takes a tenth of a second.
    room = 0 if fits(0) else bisect_left(range(len(ROOMS)), True, lo=1, key=fits)
    return bytes(tried[min(room, len(ROOMS) - 1)].write_pdf())


def _always(of: SheetOf, who: str, paper: Paper) -> dict[str, Any]:
    """What stands on it however little room there is."""
    tool, wide = of.page.tool, paper.width - 26 - _BESIDE
    address = qr.address(settings.SITE_URL, qr.TOOL, tool.code)
    return {
        **around(address, shop=of.page.shop, who=who, paper=paper),
        "tool": tool,
        "page": of.page,
        "code_size": fitted(tool.code, wide, largest=15, smallest=6),
        "name_size": fitted(tool.name, wide, largest=5.2, smallest=3.2, weight=letters.HALF, lines=3),
        "image": inside(of.picture.middle) if of.picture is not None else "",
    }


def _html(said: Sheet, always: dict[str, Any]) -> str:
    given = {
        "sheet": said,
        "rows": in_rows(said.facts),
        "pairs": list(in_pieces(said.inserts, 2)),
        "picture": always["image"] if said.picture else "",
    }
    return render_to_string("pdf/tool_sheet.html", {**always, **given})
