"""The address behind the code on a tag; and that the tag of a tool is lost, or was found again."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from shared.access import can_log, can_read, needs
from shared.errors import Refused
from tooling.forms.deeds.tags import TagLostForm
from tooling.models import Tool
from tooling.services.tags import lost
from tooling.views import counts
from tooling.views.deeds.base import deed, on_the_floor, page, to_tool
from tooling.views.no_tool import no_tool
from tooling.views.scan_moves import lead_on


@needs(can_read)
@require_safe
def open_tag(request: HttpRequest, code: str) -> HttpResponse:
    """To the tool's page, by its code or an older one; where there is none, to those that look alike.

    Whoever opened the tag of a place a moment before moves the tool there; where it was longer ago it is offered to say
    that the tool was seen at it.
    """
    tool = Tool.objects.called(code).first()
    if tool is None:
        return no_tool(request, code)
    proof = counts.kept(request)
    address = reverse("tool", args=[tool.code]) + (f"?{urlencode({'scanned': proof})}" if proof else "")
    return lead_on(request, address, tool=tool)


@deed()
def tag_lost(request, code):
    """One tap on the tool's page; a station is asked whose hands."""
    on = on_the_floor(code)
    form = TagLostForm(request.POST if request.method == "POST" else None, who=request.user, now=on.at)
    if form.is_valid():
        lost.tag_lost(on.tool, by=form.hands, recorded_by=request.user, at=on.at)
        messages.success(request, _("%(tool)s is on the list of tags to print.") % {"tool": on.tool.code})
        return to_tool(on)
    return page(request, "tag_lost", on, form)


@needs(can_log)
@require_POST
def tag_found(request, code):
    """It was found again, or the tap was a slip."""
    on = on_the_floor(code)
    try:
        lost.rub_out_lost(on.tool, by=request.user, at=on.at)
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, _("Rubbed out: the tag of %(tool)s is not lost.") % {"tool": on.tool.code})
    return to_tool(on)
