"""The defects of a tool on its pictures, and one of them from visit to visit."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Shop, Tool
from tooling.selectors.defects import Visit, defect_story, defects_of
from tooling.services.deeds.measured_with import readings_with
from tooling.views.deeds.base import strip_for
from tooling.views.frame import framed
from tooling.words import defects as words
from tooling.words import readings
from tooling.words.counting import capital


@needs(can_read)
@require_safe
@as_of_one_moment
def defects(request: HttpRequest, code: str) -> HttpResponse:
    """All defects of a tool: the open ones first, each with its place on the picture."""
    tool = _tool(code)
    found = defects_of(tool, clock.now())
    given = {
        "tool": tool,
        "open": [one for one in found if one.is_open],
        "closed": [one for one in found if not one.is_open],
        "may_log": can_log(request.user),
    }
    return render(request, "tooling/defects.html", {**given, **framed()})


@needs(can_read)
@require_safe
@as_of_one_moment
def defect(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """One defect: what and where it is, and what was seen and done at each visit."""
    tool = _tool(code)
    one = defect_story(tool, number, clock.now())
    if one is None:
        raise Http404
    given = {
        "tool": tool,
        "one": one,
        "did": [(see, _visited(see, request.user.units)) for see in one.visits],
        "pictured": any(see.pictures for see in one.visits),
        "may_log": can_log(request.user),
        **strip_for(request, tool, Shop.current()),
    }
    return render(request, "tooling/defect.html", {**given, **framed()})


def _visited(see: Visit, units: str) -> tuple[str, list[str]]:
    """What was done and said at a visit; where it was mended, with what was measured after it."""
    head, more = words.visit(see, units)
    after = readings_with(see.entry) if see.entry.kind in words.MENDED_BY else []
    return head, more + [capital(readings.said(reading.payload, units)) for reading in after]


def _tool(code: str) -> Tool:
    tool = Tool.objects.called(code).select_related("summary").first()
    if tool is None:
        raise Http404
    return tool
