"""The checks of the edge that a trim mask cuts: all of them, and one as a picture with its table."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shared.access import can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.models import Kind, Tool
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from trimfixtures.calc.edges import is_out
from trimfixtures.drawing.deviations import in_order
from trimfixtures.selectors.edge_checks import Check
from trimfixtures.selectors.edge_checks import edge_checks as asked
from trimfixtures.words import edge_checks as words

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
    one, before = found.numbered(int(text) if text.isascii() and text.isdigit() and len(text) <= LONGEST else None)
    units, today = request.user.units, frame["now"].astimezone(frame["zone"]).date()
    context = {
        "tool": tool,
        "found": found,
        "one": one,
        "rows": _rows(one, before, units) if one is not None else [],
        "before": next((check.points for check in before if check.points), ()),
        "lines": [_line(check, units, today) for check in found.checks],
        "drifts": [(drift, words.drift(drift, found.uses)) for drift in found.drifts],
        "working": words.capability(found.capability, units) if found.capability is not None else [],
        "may_log": can_log(request.user),
    }
    if one is not None:
        context |= _line(one, units, today)
        context["last"] = words.last_said(found.checks[0], frame["now"], frame["zone"])
        context["newest"] = one is found.checks[0]
    return render(request, "trimfixtures/edge_checks.html", {**context, **frame})


def _line(check: Check, units: str, today: Any) -> dict[str, Any]:
    return {
        "check": check,
        "head": words.head(check),
        "about": list(words.about(check, units)),
        "late": words.calibration(check, today),
    }


def _rows(one: Check, before: list[Check], units: str) -> list[dict[str, Any]]:
    """The table beside the picture, in its order; last what nobody looked at."""
    drawn = in_order(one.points)
    return [
        {
            "point": point,
            "along": words.worked(point.along, units) if point.along is not None else "",
            "found": words.found(point, units),
            "out": is_out(point, one.limit),
            "judged": words.judged(point, out=is_out(point, one.limit), limit=one.limit),
            "before": words.earlier(point.name, before, units),
        }
        for point in (*drawn, *(point for point in one.points if point not in drawn))
    ]
