"""The sheet of a tool, to be printed."""

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.selectors.tool import found
from tooling.selectors.tool_sheet import sheet_of
from tooling.services.demo_steps import opened
from tooling.services.on_paper import asked_paper
from tooling.services.tool_sheet import draw
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed


@needs(can_read)
@never_cache
@require_safe
def tool_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """One page of paper with all that is known of a tool now; where nothing can be drawn, a page that says why."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        here = reverse("tool_sheet", args=[tool.code])
        return redirect(f"{here}?{asked}" if (asked := request.GET.urlencode()) else here)
    units = request.user.units
    with one_moment() as at:
        of = sheet_of(tool, at, units)
    paper = asked_paper(request.GET.get("paper", ""), units)
    reply = printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper),
        name=tool.code, at=at, zone=of.page.shop.zone, back=reverse("tool", args=[tool.code]), about=tool.code,
    )  # fmt: skip
    if reply.status_code == HTTPStatus.OK:
        opened(request.user, "sheet", of.page.shop)
    return reply
