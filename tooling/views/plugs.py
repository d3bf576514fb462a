"""A plug's record: how it sat on the machine and what milled it, read by all and kept by a lead."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, typed_before
from tooling.forms.plugs import AlikeForm, PlugForm
from tooling.models import Kind, MillingPass, PlugRecord, Tool
from tooling.selectors.plug import plug_of
from tooling.selectors.tool import found
from tooling.services import plugs
from tooling.services.on_paper import PAPERS, usual_paper
from tooling.views import pass_gone
from tooling.views.catalogue import say_kept, say_refused
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.words.plug import passes_said, sat, set_up_like
from tooling.words.plug_cautions import cautions
from tooling.words.plug_work import done_by_hand

# What a deed gives back: an answer, or the form in which its words stand.
Did = HttpResponse | PlugForm | AlikeForm


@keeps_typed
@needs(can_read)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def plug_record(request: HttpRequest, code: str) -> HttpResponse:
    """All of it on one page; a deed of a lead is one button."""
    if request.method == "POST" and not can_lead(request.user):
        raise PermissionDenied
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.kind != Kind.PLUG:
        return redirect("tool", code=tool.code)
    if tool.code != code:
        return redirect("plug_record", code=tool.code)
    if request.method != "POST":
        typed = typed_before(request)
        form = PlugForm(record_of(tool), typed, system=request.user.units) if typed is not None else None
        return _page(request, tool, form)
    done = _deed(request, tool)
    return done if isinstance(done, HttpResponse) else _page(request, tool, done)


def record_of(tool: Tool) -> PlugRecord:
    """Its row, unsaved where nobody has described it."""
    record = PlugRecord.objects.filter(tool=tool).first() or PlugRecord(tool=tool)
    record.tool = tool
    return record


def _deed(request: HttpRequest, tool: Tool) -> Did:
    """What the tapped button says: its name, and for a pass its key and a further word. Of nonsense nothing is done."""
    name, *more = request.POST.get("do", "").split(".")
    if name in _OF_A_PLUG and not more:
        return _OF_A_PLUG[name](request, tool)
    one = pass_called(tool, more[0]) if more else None
    try:
        if name in _OF_A_PASS and one is not None:
            return _OF_A_PASS[name](request, tool, one, *more[1:2])
        if name in _OF_A_PASS:
            raise plugs.Gone
        messages.warning(request, _("That button is none of this page."))
    except (Refused, ValidationError) as refused:
        say_refused(request, refused)
    return here(tool)


def _describe(request: HttpRequest, tool: Tool) -> Did:
    record = record_of(tool)
    form = PlugForm(record, request.POST, system=request.user.units)
    if form.is_valid():
        columns = form.changes()
        try:
            if columns:
                plugs.describe(tool, by=request.user, at=clock.now(), read=record, **columns)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            say_kept(request, form)
            return here(tool)
    return form


def _alike(request: HttpRequest, tool: Tool) -> Did:
    """Another plug gets this one's record and passes."""
    form = AlikeForm(tool, request.POST)
    if form.is_valid():
        other = form.cleaned_data["plug"]
        try:
            plugs.set_up_alike(other, like=tool, by=request.user, at=clock.now())
        except Refused as refused:
            form.add_error("plug", refused.message)
        else:
            messages.success(request, _("Set up like %(plug)s.") % {"plug": tool.code})
            return here(other)
    return form


def _put_back(request: HttpRequest, tool: Tool) -> Did:
    one = pass_gone.pass_of(request, request.POST.get("out", ""), tool)
    if one is None:
        messages.warning(request, _("There is nothing to put back."))
        return here(tool)
    try:
        plugs.put_back(one, by=request.user, at=clock.now())
    except (Refused, ValidationError) as refused:
        say_refused(request, refused)
    else:
        messages.success(request, _("Put back."))
    return here(tool, one)


def _move(request: HttpRequest, tool: Tool, one: MillingPass, place: str = "") -> HttpResponse:
    """To another place among the passes, counted from 1."""
    order = [row.pk for row in tool.milling_passes.all()]
    if not (place.isascii() and place.isdigit() and len(place) < 6):
        messages.warning(request, _("Nothing was moved: which place?"))
        return here(tool)
    if one.pk not in order:
        raise plugs.Gone
    order.remove(one.pk)
    order.insert(max(int(place) - 1, 0), one.pk)
    plugs.put_in_order(tool, order, by=request.user, at=clock.now())
    return here(tool, one)


def _take_out(request: HttpRequest, tool: Tool, one: MillingPass) -> HttpResponse:
    gone = plugs.remove_pass(one, by=request.user, at=clock.now())
    return here(tool, out=pass_gone.keep_gone(request, gone))


_OF_A_PLUG: dict[str, Callable[..., Did]] = {"describe": _describe, "alike": _alike, "put_back": _put_back}
_OF_A_PASS: dict[str, Callable[..., HttpResponse]] = {"move": _move, "out": _take_out}


def pass_called(tool: Tool, key: str) -> MillingPass | None:
    """A pass of this plug by its key."""
    if not (key.isascii() and key.isdigit() and len(key) < 18):
        return None
    return tool.milling_passes.filter(pk=int(key)).first()


def here(tool: Tool, one: MillingPass | None = None, **more: str) -> HttpResponse:
    """Back to the page, at a pass."""
    fragment = f"pass-{one.pk}" if one is not None else None
    return redirect(reverse("plug_record", args=[tool.code], query=more, fragment=fragment))


def _page(request: HttpRequest, tool: Tool, form: PlugForm | AlikeForm | None) -> HttpResponse:
    frame, who = framed(), request.user
    of, may_lead = plug_of(tool, frame["now"]), can_lead(who)
    gone = pass_gone.pass_of(request, request.GET.get("out", ""), tool) if may_lead else None
    context: dict[str, Any] = {
        "tool": tool,
        "of": of,
        "sat": sat(of.record),
        "to_measure": set_up_like(of),
        "passes": passes_said(of.passes, who.units),
        "work": done_by_hand(of, frame["zone"]),
        "cautions": cautions(),
        "may_lead": may_lead,
        "out": request.GET.get("out", "") if gone is not None else "",
        "papers": [(key, paper.name) for key, paper in PAPERS.items()],
        "usual_paper": usual_paper(who.units),
        "units": who.units,
    }
    if may_lead:
        context["form"] = form if isinstance(form, PlugForm) else PlugForm(record_of(tool), system=who.units)
        context["opened"] = isinstance(form, PlugForm)
        context["alike"] = form if isinstance(form, AlikeForm) else AlikeForm(tool)
    return render(request, "tooling/plug.html", {**context, **frame})
