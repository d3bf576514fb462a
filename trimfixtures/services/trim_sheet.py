"""The trim sheet as a PDF: as many pages as its cuts take."""

from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

from shared.paper import document, qr
from tooling.services.on_paper import MARGINS, Paper, at_scale, css, headed, inside
from trimfixtures.drawing import section
from trimfixtures.selectors.trim import TrimOf
from trimfixtures.services.paper_parts import seen_from_above
from trimfixtures.words.trim_sheet import across, not_to_scale, trim_sheet

_PICTURES = 3
_SEEN = 76  # mm that pictures take beside how it sits
_SECTION = 80  # mm that a section may be wide


def draw(of: TrimOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    address = qr.address(settings.SITE_URL, qr.TOOL, of.tool.code)
    said = trim_sheet(of, units)
    given = {
        **headed(of.tool, address, shop=of.shop, who=who, paper=paper),
        "of": of,
        "sheet": said,
        "blocks": _blocks([{"said": one, **_drawing(one.of, units)} for one in said.cuts]),
        "plan": seen_from_above(of.outline, paper.width - MARGINS - (_SEEN if of.pictures else 0), of.cuts),
        "pictures": [_picture(one) for one in of.pictures[:_PICTURES]],
        "units": units,
    }
    return document.pdf(render_to_string("pdf/trim_sheet.html", given), css=css("set_sheet", "trim_sheet"))


def _blocks(cuts: list[Any]) -> list[list[Any]]:
    """What stands on one page: the first cut with what goes before all, and the last two, so that none is left over."""
    if len(cuts) < 3:
        return [cuts]
    return [*([one] for one in cuts[:-2]), cuts[-2:]]


def _drawing(cut: Any, units: str) -> dict[str, Any]:
    """How wide its section stands on paper, in mm, so that its scale is one that is said in a word."""
    millimetre = section.millimetre(cut, units)
    if millimetre is None:
        return {"wide": _SECTION * 0.8, "scale": not_to_scale()}
    times, wide = at_scale(section.WIDE / millimetre, _SECTION)
    return {"wide": wide, "scale": across(times)}


def _picture(one: Any) -> dict[str, Any]:
    """A picture as it lies in the document, and where its ring stands, in parts of a hundred."""
    mark = one.mark
    ring = None if mark is None else {"left": mark[0] / 10, "top": mark[1] / 10}
    return {"image": inside(one.middle), "caption": one.caption, "ring": ring}
