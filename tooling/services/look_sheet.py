"""The checklist of a tool as a PDF, to be filled in by hand where no screen is."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse

from shared.paper import document, qr
from tooling.models import Checklist, Purpose, Shop, Summary, Tool
from tooling.selectors.defects import DefectNow
from tooling.services.on_paper import Paper, css, headed, inside
from tooling.words import defects as words
from tooling.words.cautions import among_others
from tooling.words.looks_answered import IF_ACCEPTED, IF_HELD, IF_NOT_HELD
from tooling.words.when import moment, with_dates


@dataclass(frozen=True, slots=True)
class Sheet:
    """What head and foot of its pages say."""

    whose: str
    as_of: str
    stage: str = ""


def draw(
    tool: Tool,
    checklist: Checklist | None,
    defects: Sequence[DefectNow],
    *,
    purpose: str,
    at: datetime,
    shop: Shop,
    who: str,
    units: str,
    paper: Paper,
) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    with with_dates():
        as_of = moment(at, at, shop.zone)
    pictures = {one.defect.picture.pk: one.defect.picture for one in defects if one.defect.picture is not None}
    given = {
        **headed(
            tool, qr.page(settings.SITE_URL, reverse("looked_at", args=[tool.code])), shop=shop, who=who, paper=paper
        ),
        "sheet": Sheet(tool.code, as_of),
        "verdicts": IF_ACCEPTED if purpose == Purpose.ACCEPTANCE else IF_HELD if _is_held(tool) else IF_NOT_HELD,
        "cautions": [among_others("look")],
        "checklist": checklist,
        "items": [
            (item, range(item.spots if item.quantity else 0)) for item in (checklist.items.all() if checklist else ())
        ],
        "defects": [words.named(one, units) for one in defects],
        "pictures": [
            (inside(picture.middle), [(one.number, *_percent(one)) for one in defects if _is_on(one, key)])
            for key, picture in pictures.items()
        ],
    }
    return document.pdf(render_to_string("pdf/look_sheet.html", given), css=css("set_sheet", "look_sheet"))


def _is_held(tool: Tool) -> bool:
    return Summary.objects.filter(tool=tool, held_since__isnull=False).exists()


def _is_on(one: DefectNow, picture: int) -> bool:
    return one.mark is not None and one.defect.picture_id == picture


def _percent(one: DefectNow) -> tuple[str, str]:
    """From the left and from the top, as a stylesheet wants it."""
    across, down = one.mark or (0, 0)
    return f"{across / 10:.1f}", f"{down / 10:.1f}"
