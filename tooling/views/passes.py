"""The form of one pass of a plug: a further one, and one that is changed."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, sent
from tooling.forms.plugs import NewPassForm, PassForm
from tooling.models import Kind, MillingPass, Tool
from tooling.selectors.tool import found
from tooling.services import plugs
from tooling.views.catalogue import say_kept, say_refused
from tooling.views.frame import framed
from tooling.views.plugs import here, pass_called
from tooling.words.cautions import alone
from tooling.words.counting import capital
from tooling.words.plug_cautions import cautions
from tooling.words.plug_changes import called


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def add_pass(request: HttpRequest, code: str) -> HttpResponse:
    """A pass comes in behind the others, planned or cut."""
    tool = _plug(code)
    form = NewPassForm(MillingPass(tool=tool), sent(request), system=request.user.units)
    form.initial["place"] = tool.milling_passes.count() + 1
    if request.method == "POST" and form.is_valid():
        try:
            one = plugs.add_pass(tool, by=request.user, at=clock.now(), **form.whole())
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Written down: %(pass)s.") % {"pass": called(one)})
            return redirect("add_pass", code=tool.code) if request.POST.get("then") == "another" else here(tool, one)
    return _form_page(request, tool, form, None)


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def change_pass(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What stands of a pass is changed, and how long it took is said; what stood there before is kept."""
    tool = _plug(code)
    one = pass_called(tool, str(number))
    if one is None:
        raise Http404
    form = PassForm(one, sent(request), system=request.user.units)
    if request.method == "POST" and form.is_valid():
        columns = form.changes()
        try:
            if columns:
                plugs.change_pass(one, by=request.user, at=clock.now(), read=one, **columns)
        except plugs.Gone as gone:
            say_refused(request, gone)
            return here(tool)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            say_kept(request, form)
            return here(tool, one)
    return _form_page(request, tool, form, one)


def _plug(code: str) -> Tool:
    tool = found(code)
    if tool is None or tool.kind != Kind.PLUG:
        raise Http404
    return tool


def _form_page(request: HttpRequest, tool: Tool, form: PassForm, one: MillingPass | None) -> HttpResponse:
    name = capital(called(one)) if one is not None else ""
    context = {"tool": tool, "form": form, "name": name, "caution": alone(cautions()[0])}
    return render(request, "tooling/pass_form.html", {**context, **framed()})
