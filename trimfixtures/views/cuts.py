"""Where a lead describes a trim mask, and puts its cuts in order."""

from collections.abc import Callable

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, sent, typed_before
from tooling.models import Kind, Tool
from tooling.selectors.tool import found
from tooling.views.catalogue import say_kept, say_refused
from tooling.views.frame import framed
from trimfixtures.forms.cuts import CutForm, NewCutForm
from trimfixtures.forms.masks import MaskForm
from trimfixtures.models import Feature, Mask
from trimfixtures.selectors import cuts as asked
from trimfixtures.selectors.trim import trim_of
from trimfixtures.services import features, masks
from trimfixtures.views import cut_gone
from trimfixtures.words.cut_page import before_the_edge, sits
from trimfixtures.words.cut_said import cuts_said, past_outline

# What a deed gives back: an answer, or the form in which its words stand.
Did = HttpResponse | MaskForm


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def cuts(request: HttpRequest, code: str) -> HttpResponse:
    """How it sits, and its cuts in order; a deed is one button."""
    tool = _tool(code)
    if tool.code != code:
        return redirect("cuts", code=tool.code)
    mask = _mask(tool)
    if request.method != "POST":
        typed = typed_before(request)
        return _page(request, mask, MaskForm(mask, typed, system=request.user.units), opened=typed is not None)
    done = _deed(request, mask)
    return done if isinstance(done, HttpResponse) else _page(request, mask, done, opened=True)


def _deed(request: HttpRequest, mask: Mask) -> Did:
    """What the tapped button says: its name, and for a cut its key and a further word. Of nonsense nothing is done."""
    name, *more = request.POST.get("do", "").split(".")
    if name == "describe":
        return _describe(request, mask, *more[:1])
    cut = _cut(mask, more[0]) if more else None
    try:
        if name == "put_back" and not more:
            return _put_back(request, mask)
        if name in _OF_A_CUT and cut is not None:
            return _OF_A_CUT[name](request, mask, cut, *more[1:2])
        gone = _("That cut is not there any more: somebody took it out.")
        messages.warning(request, gone if name in _OF_A_CUT else _("That button is none of this page."))
    except (Refused, ValidationError) as refused:
        say_refused(request, refused)
    return _here(mask.tool)


def _describe(request: HttpRequest, mask: Mask, then: str = "") -> Did:
    """What is said of the trim mask is kept; `then`: its first cut is written down next."""
    form = MaskForm(mask, request.POST, system=request.user.units)
    if form.is_valid():
        columns = form.changes()
        try:
            if columns or mask.pk is None:
                masks.describe(mask.tool, by=request.user, at=clock.now(), read=mask, **columns)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            say_kept(request, form)
            return redirect("add_cut", code=mask.tool.code) if then == "cut" else _here(mask.tool)
    return form


def _move(request: HttpRequest, mask: Mask, cut: Feature, place: str = "") -> HttpResponse:
    """To another place among the cuts, counted from 1."""
    order = [one.pk for one in mask.features.in_order()]
    if not (place.isascii() and place.isdigit() and len(place) < 6):
        messages.warning(request, _("Nothing was moved: which place?"))
        return _here(mask.tool)
    order.remove(cut.pk)
    order.insert(max(int(place) - 1, 0), cut.pk)
    features.put_in_order(mask, order, by=request.user, at=clock.now())
    return _here(mask.tool, cut)


def _take_out(request: HttpRequest, mask: Mask, cut: Feature) -> HttpResponse:
    gone = features.remove_feature(cut, by=request.user, at=clock.now())
    return _here(mask.tool, out=cut_gone.keep_gone(request, gone))


def _put_back(request: HttpRequest, mask: Mask) -> HttpResponse:
    cut = cut_gone.cut_of(request, request.POST.get("out", ""), mask) if mask.pk is not None else None
    if cut is None:
        messages.warning(request, _("There is nothing to put back."))
        return _here(mask.tool)
    back = features.put_back(cut, by=request.user, at=clock.now())
    messages.success(request, _("Put back: %(cut)s.") % {"cut": back})
    return _here(mask.tool, back)


_OF_A_CUT: dict[str, Callable[..., HttpResponse]] = {"move": _move, "out": _take_out}


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def add_cut(request: HttpRequest, code: str) -> HttpResponse:
    """A cut comes in. A trim mask that nobody has described begins with it."""
    tool = _tool(code)
    mask = _mask(tool)
    form = NewCutForm(Feature(), sent(request), system=request.user.units)
    if request.method == "POST" and form.is_valid():
        at = clock.now()
        try:
            described = mask if mask.pk is not None else masks.describe(tool, by=request.user, at=at)
            cut = features.add_feature(described, by=request.user, at=at, **form.whole())
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Written down: %(cut)s.") % {"cut": cut})
            _say_past(request, cut)
            return redirect("add_cut", code=tool.code) if request.POST.get("then") == "another" else _here(tool, cut)
    return _form_page(request, mask, form, None)


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def change_cut(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What stands of a cut is changed; what stood there before is kept."""
    tool = _tool(code)
    mask = _mask(tool)
    cut = _cut(mask, str(number))
    if cut is None:
        raise Http404
    form = CutForm(cut, sent(request), system=request.user.units)
    if request.method == "POST" and form.is_valid():
        columns = form.changes()
        try:
            if columns:
                features.change_feature(cut, by=request.user, at=clock.now(), read=cut, **columns)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        except Feature.DoesNotExist:
            messages.warning(request, _("That cut is not there any more: somebody took it out."))
            return _here(tool)
        else:
            say_kept(request, form)
            _say_past(request, cut)
            return _here(tool, cut)
    return _form_page(request, mask, form, cut)


def _tool(code: str) -> Tool:
    tool = found(code)
    if tool is None or tool.kind != Kind.TRIM_MASK:
        raise Http404
    return tool


def _mask(tool: Tool) -> Mask:
    """Its detail row, unsaved where nobody has described it."""
    mask = Mask.objects.filter(tool=tool).first() or Mask(tool=tool)
    mask.tool = tool
    return mask


def _cut(mask: Mask, key: str) -> Feature | None:
    if mask.pk is None or not (key.isascii() and key.isdigit() and len(key) < 18):
        return None
    return mask.features.select_related("cutter", "bushing").filter(pk=int(key)).first()


def _say_past(request: HttpRequest, cut: Feature) -> None:
    """What was just kept may reach past the outline without being meant to."""
    known = asked.cuts(Mask.objects.get(pk=cut.mask_id), request.user.units)
    for said in (past_outline(one) for one in known if one.feature.pk == cut.pk):
        if said:
            messages.warning(request, said)


def _here(tool: Tool, cut: Feature | None = None, **more: str) -> HttpResponse:
    fragment = f"cut-{cut.pk}" if cut is not None else None
    return redirect(reverse("cuts", args=[tool.code], query=more, fragment=fragment))


def _page(request: HttpRequest, mask: Mask, form: MaskForm, *, opened: bool = False) -> HttpResponse:
    frame, units = framed(), request.user.units
    shown = trim_of(mask.tool, frame["now"], units=units)
    gone = cut_gone.cut_of(request, request.GET.get("out", ""), mask) if mask.pk is not None else None
    context = {
        "tool": mask.tool,
        "mask": mask,
        "form": form,
        "opened": opened or mask.pk is None,
        "sits": sits(mask),
        "shown": shown,
        "cuts": cuts_said(shown.cuts, units),
        "early_edge": before_the_edge([one.feature for one in shown.cuts]),
        "out": request.GET.get("out", "") if gone is not None else "",
        "left": gone,
    }
    return render(request, "trimfixtures/cuts.html", {**context, **frame})


def _form_page(request: HttpRequest, mask: Mask, form: CutForm, cut: Feature | None) -> HttpResponse:
    context = {"tool": mask.tool, "mask": mask, "form": form, "cut": cut}
    return render(request, "trimfixtures/cut_form.html", {**context, **framed()})
