"""The checks of the edge that a trim mask cuts: all of them, and one as a picture with its table."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shared.access import can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Kind, Tool
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from trimfixtures.selectors.edge_check import last_points
from trimfixtures.selectors.edge_checks import edge_checks as asked
from trimfixtures.selectors.in_doubt import parts_since
from trimfixtures.words import edge_checks as words
from trimfixtures.words.check_said import check_said, points_said

LONGEST = 9


@needs(can_read)
@require_safe
@as_of_one_moment
def edge_checks(request: HttpRequest, code: str) -> HttpResponse:
    """All checks by the page, and one drawn: the newest with points, or the one that the address names."""
    tool = Tool.objects.called(code).first()
    if tool is None or tool.kind != Kind.TRIM_MASK:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("edge_checks", code=tool.code)
    frame = framed()
    now, zone = frame["now"], frame["zone"]
    number = number_of(request.GET.get("check", ""))
    found = asked(tool, now, zone, number=number, page=request.GET.get("page"))
    one = found.one
    units, today = request.user.units, now.astimezone(zone).date()
    context = {
        "tool": tool,
        "found": found,
        "one": one,
        "rows": points_said(one, found.before, units) if one is not None else [],
        "before": last_points(found.before),
        "lines": [check_said(check, units, today) for check in found.listed],
        "taken": words.taken(found.series, now, zone),
        "drifts": [(drift, words.drift(drift, found.uses)) for drift in found.series.drifts],
        "working": words.working(found.series, units),
        "may_log": can_log(request.user),
        "doubt": parts_since(tool, now, zone) if found.count else {},
    }
    if one is not None:
        context["said"] = check_said(one, units, today)
        context["last"] = words.last_said(found.last, now, zone)
        context["newest"] = one is found.last
    return render(request, "trimfixtures/edge_checks.html", {**context, **frame})


def number_of(text: str) -> int | None:
    """The number of an entry that an address names; None where it is none."""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= LONGEST else None
