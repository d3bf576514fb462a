"""The sheet of a rack as a PDF: its shelves drawn, and below a list of what lies there or has its home there."""

from datetime import datetime
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from shared.paper import document, qr
from shared.pieces import in_pieces
from tooling.drawing import rack as drawing
from tooling.models import Shop
from tooling.selectors.places import PlacePage
from tooling.selectors.rack import RackDrawing
from tooling.services.on_paper import BESIDE, MARGINS, Paper, around, css, fitted
from tooling.words import cautions
from tooling.words.rack_sheet import OnPaper, Reader, as_of, carries, listed, shelf

# The longest tool takes so many mm, and less where a shelf is cut into bays.
_WIDE, _IN_BAYS = 80.0, 33.0
_BAYS_IN_ROW = 5
# A shelf with no more tools than this stays on one page; a fuller one may be cut.
_WHOLE = 24


def draw(shown: PlacePage, *, at: datetime, shop: Shop, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    place, zone = shown.shelf.place, shop.zone
    reader = Reader(units, zone, at.astimezone(zone).date())
    wide = paper.width - MARGINS - BESIDE
    given = {
        **around(qr.address(settings.SITE_URL, qr.PLACE, place.code), shop=shop, who=who, paper=paper),
        "place": place,
        "above": shown.above,
        "as_of": as_of(at, zone),
        "carries": carries(shown.shelf, units),
        "code_size": fitted(place.code, wide, largest=12, smallest=5),
        "racks": [_rack(rack, reader) for rack in shown.racks] if shown.is_drawn else [],
        "listed": listed(shown.racks, reader),
        "lifting": [cautions.caution("lift")],
    }
    return document.pdf(render_to_string("pdf/rack_sheet.html", given), css=css("set_sheet", "rack_sheet"))


def _rack(rack: RackDrawing, reader: Reader) -> dict[str, Any]:
    em = (_IN_BAYS if rack.is_cut else _WIDE) / drawing.LONGEST
    return {
        "name": rack.place.name,
        "on_floor": rack.on_floor,
        "shelves": [_drawn(shelf(one, reader), rack.longest_mm, em) for one in rack.shelves],
    }


def _drawn(said: OnPaper, longest: float, em: float) -> dict[str, Any]:
    """A shelf with the drawing of each tool on it, its bays in rows of a table."""
    tools = [(tool, _shape(tool.one, longest, em)) for tool in said.tools]
    bays = [_drawn(bay, longest, em) for bay in said.bays]
    whole = len(tools) + sum(len(bay["tools"]) for bay in bays) <= _WHOLE
    return {"said": said, "tools": tools, "bays": list(in_pieces(bays, _BAYS_IN_ROW)), "whole": whole}


def _shape(one: Any, longest: float, em: float) -> SafeString:
    svg = drawing.on_paper(one.tool.kind, one.how, one.tool.length_mm, one.high_mm, longest, em)
    return mark_safe(svg)  # noqa: S308  (our own drawing)
