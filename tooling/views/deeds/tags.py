"""The address behind the code on a tag."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from tooling.models import Tool
from tooling.views import counts
from tooling.views.tool import no_tool


@needs(can_read)
@require_safe
def open_tag(request: HttpRequest, code: str) -> HttpResponse:
    """To the tool's page, by its code or an older one; where there is none, to those that look alike.

    Whoever scanned the tag of a place just before is offered there to say that the tool was seen at it.
    """
    tool = Tool.objects.called(code).first()
    if tool is None:
        return no_tool(request, code)
    proof = counts.kept(request)
    return redirect(reverse("tool", args=[tool.code]) + (f"?{urlencode({'scanned': proof})}" if proof else ""))
