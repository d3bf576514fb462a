"""The checks of the edge that a trim mask cuts: all of them, and one as a picture with its table."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shared.access import can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Kind, Tool
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from trimfixtures.selectors.edge_checks import edge_checks as asked
from trimfixtures.selectors.edge_checks import last_points
from trimfixtures.selectors.in_doubt import parts_since
from trimfixtures.words import edge_checks as words
from trimfixtures.words.check_said import check_said, points_said

LONGEST = 9


@needs(can_read)
@require_safe
@as_of_one_moment
def edge_checks(request: HttpRequest, code: str) -> HttpResponse:
    """Every check, one of them drawn: the newest with points, or the one that the address names."""
    tool = Tool.objects.called(code).first()
    if tool is None or tool.kind != Kind.TRIM_MASK:
        return no_tool(request, code)
    if tool.code != code:
        return redirect("edge_checks", code=tool.code)
    frame = framed()
    found = asked(tool, frame["now"], frame["zone"])
    text = request.GET.get("check", "")
    one, before = found.numbered(number_of(text))
    units, today = request.user.units, frame["now"].astimezone(frame["zone"]).date()
    context = {
        "tool": tool,
        "found": found,
        "one": one,
        "rows": points_said(one, before, units) if one is not None else [],
        "before": last_points(before),
        "lines": [check_said(check, units, today) for check in found.checks],
        "drifts": [(drift, words.drift(drift, found.uses)) for drift in found.drifts],
        "working": words.capability(found.capability, units) if found.capability is not None else [],
        "may_log": can_log(request.user),
        "doubt": parts_since(tool, frame["now"], frame["zone"]) if found.checks else {},
    }
    if one is not None:
        context["said"] = check_said(one, units, today)
        context["last"] = words.last_said(found.checks[0], frame["now"], frame["zone"])
        context["newest"] = one is found.checks[0]
    return render(request, "trimfixtures/edge_checks.html", {**context, **frame})


def number_of(text: str) -> int | None:
    """The number of an entry that an address names; None where it is none."""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= LONGEST else None
