"""Where a tool comes from and what came from it: the page of its family, and the same on paper."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_lead, can_read, needs
from shared.snapshot import one_moment
from tooling.drawing.family import family_line
from tooling.models import Shop, Tool
from tooling.selectors.family import family as family_of
from tooling.selectors.made_again import lost_with, made_again
from tooling.selectors.took import took
from tooling.selectors.tool import found
from tooling.services.family_sheet import FamilyOf, draw
from tooling.services.on_paper import PAPERS, asked_paper, usual_paper
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed
from tooling.words import kin
from tooling.words import made_again as words
from tooling.words.when import with_dates

# As many sections stand beside each other on a desk.
_WIDE = 4


@needs(can_read)
@require_safe
def family(request: HttpRequest, code: str) -> HttpResponse:
    """The family of a tool: its line drawn, whether each can be made again, all of them as a list."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("family", code=tool.code)
    of, units = _read(tool), request.user.units
    drawing, wide = family_line(of.family), family_line(of.family, across=_WIDE)
    context = {
        "of": of,
        "tool": tool,
        "drawing": drawing,
        "wide": wide if wide != drawing else "",
        "beside": list(kin.beside(of.family)),
        "parts": of.family.parts.get(tool.pk, [])[: kin.NAMED],
        "in_all": kin.in_all(tool, of.family.parts.get(tool.pk, [])),
        "again": of.again.get(tool.pk),
        "lost": words.lost(of.lost, retired=tool.summary.retired) if of.lost is not None else (),
        "groups": kin.members(of.family, of.again, of.took, units),
        "papers": [(key, paper.name) for key, paper in PAPERS.items()],
        "usual_paper": usual_paper(units),
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/family.html", {**context, **framed()})


@needs(can_read)
@never_cache
@require_safe
def family_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """The same on paper; where nothing can be drawn, a page that says why."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        here = reverse("family_sheet", args=[tool.code])
        return redirect(f"{here}?{asked}" if (asked := request.GET.urlencode()) else here)
    with with_dates():
        of = _read(tool)
    units = request.user.units
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper), name=f"{tool.code} family",
        at=of.at, zone=of.shop.zone, back=reverse("family", args=[tool.code]), about=tool.code,
    )  # fmt: skip


def _read(tool: Tool) -> FamilyOf:
    with one_moment() as at:
        read = family_of(tool)
        again = made_again(read.tools.values(), at)
        lost = lost_with(tool) if tool.kind == "plug" else None
        return FamilyOf(tool, read, again, lost, took(read.tools.values(), at), Shop.current(), at)
