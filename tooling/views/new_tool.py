"""A new tool, guided: where it comes from is asked first, then only what that needs."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.build import LIKE, BuildForm
from tooling.models import Kind, Tool
from tooling.selectors import scans
from tooling.selectors.off_the_plug import laid_up_on
from tooling.selectors.took import alike
from tooling.selectors.usual import usual_recipes
from tooling.services.begin_tool import begin
from tooling.views.frame import framed
from tooling.words.off_the_plug import a_new
from tooling.words.took import from_to, in_short


@needs(can_lead)
@require_safe
def new_tool(request: HttpRequest) -> HttpResponse:
    """Off a plug that is here, begun in the shop, or come from outside."""
    sources, more = laid_up_on()
    kinds = [(kind, a_new(kind)) for kind in Kind.values]
    return render(request, "tooling/tool_new.html", {"sources": sources, "more": more, "kinds": kinds, **framed()})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def build(request: HttpRequest, kind: str) -> HttpResponse:
    """A tool of a kind is begun; `like` in the address names one that it is built like."""
    if kind not in Kind.values:
        raise Http404
    frame, units = framed(), request.user.units
    like = scans.tool(request.GET.get("like", ""))
    like = like if like is not None and like.kind == kind else None
    form = BuildForm(_proposed(kind, like), request.POST if request.method == "POST" else None, system=units)
    if form.is_valid():
        try:
            tool = begin(by=request.user, at=clock.now(), columns=form.said())
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Begun: %(tool)s is in the making.") % {"tool": tool.code})
            return redirect("tool", code=tool.code)
    known = [(one.tool, in_short(one, units), from_to(one, frame["now"], frame["zone"])) for one in alike(kind, like)]
    context = {"form": form, "kind": kind, "what": a_new(kind), "like": like, "alike": known, **frame}
    return render(request, "tooling/tool_build.html", context)


def _proposed(kind: str, like: Tool | None) -> Tool:
    """What a new one begins with: as the other was built, else on the recipe that is usual for its kind."""
    row = Tool(kind=kind, release_system=usual_recipes().get(kind), in_making=True)
    if like is not None:
        given: dict[str, Any] = {name: getattr(like, name) for name in LIKE}
        for name, value in given.items():
            setattr(row, name, value)
        row.as_typed = {name: typed for name, typed in like.as_typed.items() if name in LIKE}
    return row
