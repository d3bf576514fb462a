"""The sheet of the parts in doubt as a PDF, with a box beside each that nobody has looked at."""

from collections.abc import Iterator
from datetime import datetime
from io import BytesIO
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

from shared.paper import document, qr
from shared.pieces import in_pieces
from tooling.models import Shop
from tooling.selectors.containment.lines import tell_more
from tooling.selectors.containment.made_since import Containment
from tooling.services.on_paper import BESIDE, MARGINS, Paper, around, css, fitted
from tooling.words import containment as words
from tooling.words import lots
from tooling.words.when import on_paper, with_dates

# Drawing takes more than so much longer for twice as many lines: longer lists are drawn in pieces and joined.
_AT_ONCE = 400


def draw(
    found: Containment, shown: Containment, *, at: datetime, shop: Shop, who: str, paper: Paper, address: str
) -> bytes:
    """Draws the sheet of those shown, all or some of what was found; writes nothing.

    Refuses where paper cannot be drawn on this machine.
    """
    document.must_be_able()
    tell_more(shown.lines)
    with with_dates():
        title = words.title(found)
        given = {
            **around(qr.page(settings.SITE_URL, address), shop=shop, who=who, paper=paper),
            "title": title,
            "size": fitted(title, paper.width - MARGINS - BESIDE, largest=9, smallest=5, lines=2),
            "asked": found,
            "as_of": on_paper(at, shop.zone),
            "why": list(words.why(found, at)),
            "lay_on": list(lots.lay_on(found, at)),
            "of_lots": lots.of_lots(),
            "looked_at": words.looked_at(found),
            "left_out": lots.left_out(found, shown),
            "caution": words.caution(),
        }
        file = BytesIO()
        document.joined(_pieces(shown, given, at), file, title)
    return file.getvalue()


def _pieces(shown: Containment, given: dict[str, Any], at: datetime) -> Iterator[bytes]:
    pieces = list(in_pieces(list(words.lines(shown.lines, shown, at)), _AT_ONCE)) or [[]]
    for place, lines in enumerate(pieces, 1):
        of = {"lines": lines, "piece": place, "pieces": len(pieces)}
        html = render_to_string("pdf/containment_sheet.html", {**given, **of})
        yield document.pdf(html, css=css("set_sheet", "containment_sheet"))
