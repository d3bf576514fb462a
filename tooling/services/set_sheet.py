"""The sheet of a tool set as a PDF: as many pages as it takes."""

from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import mark_safe

from shared.paper import document, qr
from tooling.drawing.timebar import PAPER, on_paper, timebar_svg
from tooling.selectors.set_sheet import SetSheetOf
from tooling.services.on_paper import BESIDE, MARGINS, Paper, around, css, fitted, inside
from tooling.words.set_sheet import SetSheet, set_sheet

_ROW = 46  # mm of a row that box, picture and gaps take


def draw(of: SetSheetOf, *, who: str, units: str, paper: Paper, newest: bool) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine.

    newest: the revision is the newest, which the page of the part shows by itself.
    """
    document.must_be_able()
    said = set_sheet(of, units)
    wide = paper.width - MARGINS
    path = reverse("part", args=[of.revision.part.number])
    if not newest:
        path += "?" + urlencode({"revision": of.revision.revision})
    given = {
        **around(qr.page(settings.SITE_URL, path), shop=of.shop, who=who, paper=paper),
        "of": of,
        "part": of.revision.part,
        "sheet": said,
        "bar": mark_safe(on_paper(timebar_svg(said.bar, PAPER))) if said.bar is not None else "",  # noqa: S308  (ours)
        "places": _places(said, wide),
        "number_size": fitted(of.revision.part.number, wide - BESIDE, largest=12, smallest=5, lines=3),
    }
    return document.pdf(render_to_string("pdf/set_sheet.html", given), css=css("set_sheet"))


def _places(said: SetSheet, wide: float) -> list[dict[str, Any]]:
    """The places with what is drawn beside each tool: its picture as it lies in the document, its code as it fits."""
    return [
        {
            "place": place,
            "tools": [
                {
                    "said": one,
                    "image": inside(one.picture.small) if one.picture is not None else "",
                    "size": fitted(one.code, wide - _ROW, largest=6.4, smallest=4),
                }
                for one in place.tools
            ],
        }
        for place in said.places
    ]
