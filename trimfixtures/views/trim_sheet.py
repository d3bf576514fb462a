"""The trim sheet, to be printed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.models import Kind, PartRevision
from tooling.selectors import parts
from tooling.selectors.tool import found
from tooling.services.on_paper import asked_paper
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed
from trimfixtures.selectors.trim import sheet_of
from trimfixtures.services.trim_sheet import draw


@needs(can_read)
@never_cache
@require_safe
def trim_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """A trim mask on paper, as it is now; of any other tool, or where nothing can be drawn, a page that says why.

    `?part=`, `?revision=`, `?serial=`: of what is to be cut; without them there are lines to write on.
    """
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.kind != Kind.TRIM_MASK:
        return redirect("tool", code=tool.code)
    if tool.code != code:
        return redirect(reverse("trim_sheet", args=[tool.code], query=request.GET))
    number, revision = request.GET.get("part", "").strip(), request.GET.get("revision", "").strip()
    part = _part(number, revision)
    if number and part is None:
        context = {"tool": tool, "number": number, "revision": revision, **framed()}
        return render(request, "trimfixtures/no_trim_sheet.html", context, status=404)
    units, serial = request.user.units, " ".join(request.GET.get("serial", "").replace("\x00", "").split())
    with one_moment() as at:
        of = sheet_of(tool, at, part=part, serial=serial, units=units)
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper),
        name=f"{tool.code} trim", at=at, zone=of.shop.zone, back=reverse("tool", args=[tool.code]), about=tool.code,
    )  # fmt: skip


def _part(number: str, revision: str) -> PartRevision | None:
    """The revision that it is asked for, the newest where none is named; None where there is none of that name."""
    part = parts.found(number) if number else None
    return parts.named_revision(part, revision or None) if part is not None else None
