"""One look at a tool, for ever: what was asked, answered and measured; and the checklist on paper, to be filled in."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_log, can_read, needs
from shared.snapshot import one_moment
from tooling.models import Entry, Purpose, Shop
from tooling.selectors.checklists import checklist_at
from tooling.selectors.defects import open_defects
from tooling.selectors.just_written import tell
from tooling.selectors.looked import PURPOSE_OF, look_of, purpose_of
from tooling.selectors.tool import found
from tooling.services.look_sheet import draw
from tooling.services.on_paper import asked_paper
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.views.paper import printed
from tooling.words.looks_answered import answer_said
from tooling.words.readings import said


@needs(can_read)
@require_safe
def look(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """A look that was written, also one that is void or was corrected."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if number >= 10**9:
        raise Http404
    entries = Entry.objects.select_related("tool", "by", "recorded_by", "replaces")
    entry = get_object_or_404(entries, tool=tool, number=number, kind__in=PURPOSE_OF)
    frame, of = framed(), look_of(entry)
    units = request.user.units
    context = {
        "tool": tool,
        "look": of,
        "told": tell(entry, frame["now"], frame["shop"]),
        "purpose": purpose_of(entry),
        "lines": [
            (line, answer_said(line)[0] if line.answer else "", _said(line.readings, units)) for line in of.lines
        ],
        "readings": _said(of.readings, units),
        "may_log": can_log(request.user),
    }
    return render(request, "tooling/look.html", {**context, **frame})


def _said(readings: tuple[Entry, ...], units: str) -> list[str]:
    return [said(one.payload, units) for one in readings]


@needs(can_read)
@never_cache
@require_safe
def look_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """The checklist of the tool on paper, with its open defects; `?for=acceptance` for that one."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        return redirect(reverse("look_sheet", args=[tool.code], query=request.GET))
    purpose = request.GET.get("for", "")
    purpose = purpose if purpose in Purpose.values else Purpose.LOOK_OVER.value
    units, shop = request.user.units, Shop.current()
    with one_moment() as at:
        checklist, defects = checklist_at(tool.kind, purpose, at), open_defects(tool, at)
    paper = asked_paper(request.GET.get("paper", ""), units)
    head = {"shop": shop, "who": request.user.name, "units": units, "paper": paper, "purpose": purpose}
    return printed(
        request, lambda: draw(tool, checklist, defects, at=at, **head),
        name=f"{tool.code} look-over", at=at, zone=shop.zone, back=reverse("tool", args=[tool.code]), about=tool.code,
    )  # fmt: skip
