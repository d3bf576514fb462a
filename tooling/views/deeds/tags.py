"""The address behind the code on a tag."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from tooling.models import Tool
from tooling.views.tool import no_tool


@needs(can_read)
@require_safe
def open_tag(request: HttpRequest, code: str) -> HttpResponse:
    """To the tool's page, by its code or an older one; where there is none, to those that look alike."""
    tool = Tool.objects.called(code).first()
    return redirect("tool", code=tool.code) if tool is not None else no_tool(request, code)
