"""The sheet of a plug as a PDF: how it sat, its passes with their sections, what was done by hand."""

from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse

from shared.paper import document, qr
from tooling.drawing import clearance
from tooling.selectors.plug import PlugOf
from tooling.services.on_paper import Paper, at_scale, css, headed, inside
from tooling.words.plug import PassSaid
from tooling.words.plug_sheet import plug_sheet, scale
from tooling.words.plug_working import setting

_SECTION = 80  # mm that a section may be wide


def draw(of: PlugOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    said = plug_sheet(of, units)
    picture = of.record.picture if of.record is not None else None
    address = qr.page(settings.SITE_URL, reverse("plug_record", args=[of.tool.code]))
    given = {
        **headed(of.tool, address, shop=of.shop, who=who, paper=paper, largest=13),
        "sheet": said,
        "passes": [_drawn(one) for one in said.passes],
        "picture": inside(picture.middle) if picture is not None else "",
        "caption": picture.caption if picture is not None else "",
        "units": units,
    }
    return document.pdf(
        render_to_string("pdf/plug_sheet.html", given), css=css("set_sheet", "trim_sheet", "plug_sheet")
    )


def _drawn(said: PassSaid) -> dict[str, Any]:
    """How wide its section stands on paper, in mm, so that its scale is one that is said in a word."""
    of = setting(said.of)
    if of is None:
        return {"said": said, "wide": None, "scale": ""}
    times, wide = at_scale(clearance.WIDE / clearance.millimetre(of), _SECTION)
    return {"said": said, "wide": wide, "scale": scale(times)}
