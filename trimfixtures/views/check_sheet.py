"""The sheet of one check of a cut edge, to be printed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.models import Kind
from tooling.selectors.tool import found
from tooling.services.on_paper import asked_paper
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed
from trimfixtures.selectors.check_sheet import check_sheet_of
from trimfixtures.services.check_sheet import draw
from trimfixtures.views.edge_checks import number_of


@needs(can_read)
@never_cache
@require_safe
def check_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """A check on paper: of that number, or that which the page shows; without any check the page says so.

    A number that is no check that stands is refused: on paper nobody would see that another one was taken for it.
    """
    tool = found(code)
    if tool is None or tool.kind != Kind.TRIM_MASK:
        return no_tool(request, code)
    if tool.code != code:
        return redirect(reverse("check_sheet", args=[tool.code], query=request.GET))
    page = reverse("edge_checks", args=[tool.code])
    units, asked = request.user.units, request.GET.get("check", "").strip()
    with one_moment() as at:
        of = check_sheet_of(tool, at, number=_number(asked))
    if of is None and not asked:
        return redirect(page)
    if of is None:
        message = _("No check with that number stands: it was put right or taken back, or there never was one.")
        return render(
            request, "tooling/no_paper.html", {"message": message, "back": page, "about": tool.code}, status=404
        )
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper),
        name=f"{tool.code} check", at=of.one.at, zone=of.shop.zone, back=page, about=tool.code,
    )  # fmt: skip


def _number(asked: str) -> int | None:
    """What is no number is one that no entry has."""
    found = number_of(asked)
    return 0 if asked and found is None else found
