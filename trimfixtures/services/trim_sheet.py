"""The trim sheet as a PDF: as many pages as its cuts take."""

from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.utils.safestring import mark_safe
from django.utils.translation import get_language

from shared.paper import document, letters, qr
from shared.run.address import is_own
from tooling.services.on_paper import Paper, css, inside
from trimfixtures.drawing import plan, section
from trimfixtures.selectors.trim import TrimOf
from trimfixtures.words.trim_sheet import across, not_to_scale, plan_scale, trim_sheet

_BESIDE = 39  # mm of the head that its code for a phone takes
_MARGINS = 26  # mm at both sides
_PICTURES = 3
_SEEN = 76  # mm that pictures take beside how it sits
_SECTION = 80  # mm that a section may be wide
# How large a picture is drawn, of its true size
_SMALLER = (200, 150, 120, 100, 80, 60, 50, 40, 30, 25, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5)
_SCALES = (*(1 / one for one in _SMALLER), 1, 1.25, 1.5, 2, 2.5, 3, 4, 5)


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
        "blocks": _blocks([{"said": one, **_drawing(one.of, units)} for one in said.cuts]),
        "plan": _plan(of, wide - (_SEEN if of.pictures else 0)),
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
    times, wide = _at_scale(section.WIDE / millimetre, _SECTION)
    return {"wide": wide, "scale": across(times)}


def _plan(of: TrimOf, wide: float) -> dict[str, Any]:
    """The same of the part from above; nothing without an outline."""
    if of.outline is None:
        return {}
    times, wide = _at_scale(plan.WIDE / plan.millimetre(of.outline), wide)
    return {"wide": wide, "scale": plan_scale(times)}


def _at_scale(whole: float, most: float) -> tuple[float, float]:
    """The largest scale at which a picture that is so wide at 1 : 1 is no wider than there is room, and its width."""
    times = max((one for one in _SCALES if one * whole <= most), default=most / whole)
    return times, times * whole


def _picture(one: Any) -> dict[str, Any]:
    """A picture as it lies in the document, and where its ring stands, in parts of a hundred."""
    mark = one.mark
    ring = None if mark is None else {"left": mark[0] / 10, "top": mark[1] / 10}
    return {"image": inside(one.middle), "caption": one.caption, "ring": ring}
