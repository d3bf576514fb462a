"""A tool that is put into the set of a part, from the tool's own page."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.tool_sets import IntoSetForm
from tooling.models import Part, Tool
from tooling.selectors.parts import named_revision
from tooling.selectors.set_lines import served_without, set_lines, sets_of
from tooling.selectors.set_question import notes, question
from tooling.selectors.tool import found as tool_called
from tooling.services.set_added import add_tool
from tooling.services.set_rules import check_new
from tooling.views.frame import framed
from tooling.words.tool_set import came_in


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def put_into_set(request: HttpRequest, code: str) -> HttpResponse:
    """Put a tool into the set of a part's newest revision: one that its history names with one tap, or any other."""
    tool = tool_called(code)
    if tool is None:
        raise Http404
    form = IntoSetForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            return _put(request, form.cleaned_data["part"], tool)
        except Refused as refused:
            form.add_error("part", refused.message)
    context = {"form": form, "tool": tool, "sets": sets_of(tool), "named": served_without(tool)}
    return render(request, "tooling/set_into.html", {**context, **framed()})


def _put(request: HttpRequest, part: Part, tool: Tool) -> HttpResponse:
    revision = named_revision(part, None)
    if revision is None:
        raise Refused(_("%(part)s has no revision yet: write one down first.") % {"part": part}, "part")
    there, query = set_lines(revision), {"revision": revision.revision}
    check_new(revision, tool, "")
    if question(there, tool) is not None:
        query["ask"] = tool.code
    else:
        came = add_tool(revision, tool, by=request.user, at=clock.now())
        messages.success(request, " ".join([came_in([line.what for line in came]), *notes(there, tool)]))
    return redirect(f"{reverse('edit_set', args=[part.number])}?{urlencode(query)}")
