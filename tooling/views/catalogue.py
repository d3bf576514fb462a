"""A tool of the catalogue: a new one, and what a lead changes of one."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.catalogue import CatalogueForm
from tooling.forms.new_tool import NewToolForm
from tooling.forms.tool import ToolForm
from tooling.models import ReleaseSystem, Shop, Tool
from tooling.selectors.tool import found
from tooling.services.catalogue import bring_in, change_tool


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def new_tool(request: HttpRequest) -> HttpResponse:
    """Bring in a tool."""
    form = NewToolForm(_sent(request), system=request.user.units)
    if form.is_valid():
        try:
            tool = bring_in(by=request.user, at=clock.now(), columns=form.changes())
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Brought in."))
            return redirect("tool", code=tool.code)
    return _page(request, form, None)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, code: str) -> HttpResponse:
    """Change what stands of a tool; what stood there before is kept."""
    tool = found(code)
    if tool is None:
        raise Http404
    begun = tool.summary.count > 0
    form = ToolForm(_as_of_now(tool) if begun else tool, _sent(request), system=request.user.units, begun=begun)
    if form.is_valid():
        changes = form.changes()
        try:
            if changes:
                change_tool(tool, by=request.user, at=clock.now(), columns=changes, read=form.row)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            say_kept(request, form)
            return redirect("tool", code=changes.get("code", tool.code).strip().upper())
    return _page(request, form, tool)


def _as_of_now(tool: Tool) -> Tool:
    """The tool, unsaved, with the recipe and home that hold now instead of those of its start."""
    now = Tool.objects.select_related("made_from", "in_place_of", "summary").get(pk=tool.pk)
    now.place = tool.summary.home
    now.release_system = ReleaseSystem.objects.filter(code=tool.summary.state.get("system", "")).first()
    return now


def say_kept(request: HttpRequest, form: CatalogueForm) -> None:
    """What was kept, and what somebody else had changed meanwhile."""
    messages.success(request, _("Changed.") if form.changes() else _("Nothing was changed."))
    for words in form.meanwhile:
        messages.info(request, words)


def say_refused(request: HttpRequest, refused: Refused | ValidationError) -> None:
    """What a service refused where no form has a place for it."""
    for words in [refused.message] if isinstance(refused, Refused) else refused.messages:
        messages.warning(request, words)


def _sent(request: HttpRequest) -> Any:
    return request.POST if request.method == "POST" else None


def _page(request: HttpRequest, form: ToolForm, tool: Tool | None) -> HttpResponse:
    shop = Shop.current()
    # What was typed wrongly must not stand in the heading: the form has set nothing on the tool itself.
    context = {"form": form, "tool": tool, "shop": shop, "zone": shop.zone, "now": clock.now()}
    return render(request, "tooling/tool_form.html", context)
