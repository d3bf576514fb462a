"""The sheet of a plug, to be printed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.models import Kind
from tooling.selectors.plug import plug_of
from tooling.selectors.tool import found
from tooling.services.on_paper import asked_paper
from tooling.services.plug_sheet import draw
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed


@needs(can_read)
@never_cache
@require_safe
def plug_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """A plug on paper, as it is now; of any other tool, or where nothing can be drawn, a page that says why."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.kind != Kind.PLUG:
        return redirect("tool", code=tool.code)
    if tool.code != code:
        return redirect(reverse("plug_sheet", args=[tool.code], query=request.GET))
    units = request.user.units
    with one_moment() as at:
        of = plug_of(tool, at)
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper),
        name=f"{tool.code} plug", at=at, zone=of.shop.zone, back=reverse("plug_record", args=[tool.code]),
        about=tool.code,
    )  # fmt: skip
