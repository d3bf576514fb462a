"""The record of an acceptance, to be printed."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.selectors.acceptance import acceptance_of
from tooling.selectors.tool import found
from tooling.services.acceptance_record import draw
from tooling.services.on_paper import asked_paper
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed


@needs(can_read)
@never_cache
@require_safe
def acceptance_record(request: HttpRequest, code: str) -> HttpResponse:
    """The last acceptance of a tool, or the one that `entry` names, on paper; of a tool without one, its page."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect(reverse("acceptance_record", args=[tool.code], query=request.GET))
    asked = request.GET.get("entry", "")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 9 else None
    units = request.user.units
    with one_moment() as at:
        of = acceptance_of(tool, at, number)
    if of is None:
        if number is not None:
            raise Http404
        return redirect("tool", code=tool.code)
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper),
        name=f"{tool.code} accepted", at=at, zone=of.shop.zone, back=reverse("tool", args=[tool.code]), about=tool.code,
    )  # fmt: skip
