"""The sheet of one check of a cut edge as a PDF: its picture, its table, and what follows from all checks."""

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse

from shared.paper import document, qr
from tooling.services.on_paper import Paper, css, headed, in_rows
from trimfixtures.selectors.check_sheet import CheckSheetOf
from trimfixtures.selectors.edge_check import last_points
from trimfixtures.services.paper_parts import seen_from_above
from trimfixtures.words.check_sheet import check_sheet

# mm that the part from above and the code of the tool may be wide and high: it is kept in a file, not hung up
_PLAN, _CODE = 84, 9
# With more points the picture wants the whole width, and the table stands below it
_FEW = 10


def draw(of: CheckSheetOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    tool, said = of.found.tool, check_sheet(of, units)
    path = f"{reverse('edge_checks', args=[tool.code])}?check={of.one.number}"
    given = {
        **headed(tool, qr.page(settings.SITE_URL, path), shop=of.shop, who=who, paper=paper, largest=_CODE),
        "of": of,
        "one": of.one,
        "before": last_points(of.found.before),
        "sheet": said,
        "rows": in_rows(said.facts),
        "beside": len(said.rows) <= _FEW,
        "plan": seen_from_above(of.found.outline, _PLAN),
        "units": units,
    }
    return document.pdf(
        render_to_string("pdf/check_sheet.html", given), css=css("set_sheet", "trim_sheet", "check_sheet")
    )
