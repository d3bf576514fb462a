"""The record of an acceptance as a PDF: what was asked, answered, measured and seen, by whom and by which right."""

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse

from shared.paper import document, qr
from tooling.selectors.acceptance import Acceptance
from tooling.services.on_paper import Paper, css, headed, inside
from tooling.words.acceptance_record import acceptance_sheet

# More pictures are named and not drawn: a page has room for so many beside each other.
_MOST = 6


def draw(of: Acceptance, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the record; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    address = qr.page(settings.SITE_URL, reverse("tool", args=[of.tool.code]))
    shown = [{"image": inside(one.middle), "caption": one.caption} for one in of.look.pictures[:_MOST]]
    given = {
        **headed(of.tool, address, shop=of.shop, who=who, paper=paper, largest=13),
        "sheet": acceptance_sheet(of, units),
        "pictures": [one for one in shown if one["image"]],
        "more": len(of.look.pictures[_MOST:]),
    }
    return document.pdf(
        render_to_string("pdf/acceptance.html", given), css=css("set_sheet", "trim_sheet", "acceptance")
    )
