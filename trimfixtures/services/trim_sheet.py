"""The trim sheet as a PDF: as many pages as its cuts take."""

from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.utils.safestring import mark_safe
from django.utils.translation import get_language

from shared.paper import document, letters, qr
from shared.run.address import is_own
from tooling.services.on_paper import Paper, css, inside
from trimfixtures.drawing import section
from trimfixtures.selectors.trim import TrimOf
from trimfixtures.words.trim_sheet import not_to_scale, to_scale, trim_sheet

_BESIDE = 39  # mm of the head that its code for a phone takes
_MARGINS = 26  # mm at both sides
_PICTURES = 3
_SECTION = 80  # mm that a section may be wide
# How large a section is drawn, of its true size across
_SCALES = (0.02, 0.05, 0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10)


def draw(of: TrimOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    wide = paper.width - _MARGINS
    code = letters.fitted(of.tool.code, wide - _BESIDE, largest=17, smallest=8, weight=letters.BOLD)
    address = qr.address(settings.SITE_URL, qr.TOOL, of.tool.code)
    said = trim_sheet(of, units)
    given = {
        "of": of,
        "sheet": said,
        "cuts": [{"said": one, **_drawing(one.of, units)} for one in said.cuts],
        "pictures": [_picture(one) for one in of.pictures[:_PICTURES]],
        "units": units,
        "shop": of.shop,
        "who": who,
        "paper": paper,
        "language": get_language(),
        "code_size": code.size if code is not None else 8,
        "qr": mark_safe(qr.drawing(qr.made(address))),  # noqa: S308  (our own drawing)
        "own": is_own(settings.SITE_URL),
    }
    return document.pdf(render_to_string("pdf/trim_sheet.html", given), css=css("set_sheet", "trim_sheet"))


def _drawing(cut: Any, units: str) -> dict[str, Any]:
    """How wide its section stands on paper, in mm, so that its scale is one that is said in a word."""
    millimetre = section.millimetre(cut, units)
    if millimetre is None:
        return {"wide": _SECTION * 0.8, "scale": not_to_scale()}
    each = section.WIDE / millimetre  # mm that the whole picture is wide at 1 : 1
    times = max((one for one in _SCALES if one * each <= _SECTION), default=_SECTION / each)
    return {"wide": times * each, "scale": to_scale(times)}


def _picture(one: Any) -> dict[str, Any]:
    """A picture as it lies in the document, and where its ring stands, in parts of a hundred."""
    mark = one.mark
    ring = None if mark is None else {"left": mark[0] / 10, "top": mark[1] / 10}
    return {"image": inside(one.middle), "caption": one.caption, "ring": ring}
