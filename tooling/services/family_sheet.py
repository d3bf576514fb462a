"""The family of a tool as a PDF: its line drawn, whether each can be made again, all of them as a list."""

from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse

from shared.paper import document, qr
from tooling.drawing import ink
from tooling.drawing.family import family_line
from tooling.models import Shop, Tool
from tooling.selectors.family import Family
from tooling.selectors.made_again import LostWith, MadeAgain
from tooling.selectors.took import Took
from tooling.services.on_paper import BESIDE, MARGINS, Paper, around, css, fitted
from tooling.words import kin, made_again
from tooling.words.when import on_paper, with_dates


@dataclass(frozen=True, slots=True)
class FamilyOf:
    """What page and paper say of a family. `lost`: of a plug alone."""

    tool: Tool
    family: Family
    again: dict[int, MadeAgain]
    lost: LostWith | None
    took: dict[int, Took]
    shop: Shop
    at: datetime


def draw(of: FamilyOf, *, who: str, units: str, paper: Paper) -> bytes:
    """Draws the sheet; writes nothing. Refuses where paper cannot be drawn on this machine."""
    document.must_be_able()
    tool, wide = of.tool, paper.width - MARGINS - BESIDE
    address = qr.page(settings.SITE_URL, reverse("family", args=[tool.code]))
    with with_dates():
        given = {
            **around(address, shop=of.shop, who=who, paper=paper),
            "tool": tool,
            "as_of": on_paper(of.at, of.shop.zone),
            "drawing": ink.on_paper(family_line(of.family)),
            "beside": list(kin.beside(of.family)),
            "again": of.again.get(tool.pk),
            "lost": made_again.lost(of.lost, retired=tool.summary.retired) if of.lost is not None else (),
            "groups": kin.members(of.family, of.again, of.took, units),
            "code_size": fitted(tool.code, wide, largest=12, smallest=5),
        }
        return document.pdf(render_to_string("pdf/family_sheet.html", given), css=css("family_sheet"))
