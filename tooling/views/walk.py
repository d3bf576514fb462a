"""The walk along the racks with a phone, and how a tool stands whose past was not recorded."""

from typing import Any

from django import forms
from django.conf import settings
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused, TokenReused
from shared.keep_typed import keeps_typed, typed_before
from shared.run.address import is_own
from tooling.forms.walk import PROPOSED, StartForm, ToolPart, WalkForm
from tooling.models import Kind, Place, Tool, tidy_code
from tooling.selectors import walk as asked
from tooling.selectors.families import families
from tooling.selectors.tool import found
from tooling.services import walk as services
from tooling.views.frame import framed
from tooling.words.walk import one_family

# What stays from the tool before.
_STAYS = ("kind", "recipe")
SHOWN = 20


@keeps_typed
@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def walk(request: HttpRequest) -> HttpResponse:
    """One tool after the other: picture, code, kind, place, and how it stands."""
    frame = _frame()
    proposed = asked.proposed(frame["now"])
    form = WalkForm(
        *sent(request),
        proposed=proposed,
        family=one_family(proposed.families),
        initial=_stays(request, proposed),
        now=frame["now"],
        shop=frame["shop"],
    )
    if is_good(request, form) and (tool := taken_in(request, form, form.start())):
        messages.success(request, told(form, tool))
        place = form.cleaned_data["place"]
        stays = {**{name: form.cleaned_data[name] for name in _STAYS}, "place": place.code if place else ""}
        return redirect(f"{reverse('walk')}?{urlencode(stays)}")
    brought_in = asked.brought_in(request.user, frame["now"])
    taken = [tool for tool in brought_in if not tool.summary.retired]
    back = [tool for tool in brought_in if tool.summary.retired]
    places = Place.objects.exists()
    context = {
        "form": form,
        "taken": taken[:SHOWN],
        "back": back[:SHOWN],
        "count": len(taken),
        "places": places,
        **frame,
    }
    return render(request, "tooling/walk.html", context)


def sent(request: HttpRequest) -> tuple[Any, Any]:
    """What a form is given: what was sent, also just before signing in, or nothing."""
    return (request.POST, request.FILES) if request.method == "POST" else (typed_before(request), None)


def is_good(request: HttpRequest, form: forms.Form) -> bool:
    """Whether a form was sent and nothing is wrong with it. What was typed before signing in is looked over first."""
    if request.method == "POST":
        return form.is_valid()
    if form.is_bound:
        form.add_error(None, _("You were not signed in. Look it over and send it."))
    return False


def taken_in(request: HttpRequest, form: ToolPart, start: dict[str, Any] | None) -> Tool | None:
    """Takes the tool in; None where it was refused, which the form then says."""
    try:
        return services.take_in(
            by=request.user,
            at=clock.now(),
            columns=form.columns(),
            written=form.written,
            starter=form.starter(),
            picture=form.stored,
            start=start,
            token=form.cleaned_data["token"],
        )
    except TokenReused as reused:
        # Most likely somebody went back to the page before and typed the next tool over it.
        form.renew()
        form.add_error(None, f"{reused.message} {_('Send it once more to take this one in as well.')}")
    except Refused as refused:
        form.told(refused)
    except ValidationError as wrong:
        for field, said in wrong.message_dict.items():
            form.add_error(field if field in form.fields else None, said)
    return None


def told(form: ToolPart, tool: Tool) -> str:
    """That it was taken in, and what came with it."""
    said = [_("Taken in: %(tool)s.") % {"tool": tool.code}]
    if form.written:
        said.append(_("“%(written)s”, as it is written on it, finds it too.") % {"written": form.written})
    if starter := form.starter():
        said.append(
            _("With it the recipe %(recipe)s: common practice, no source, set your own numbers.") % {"recipe": starter}
        )
    return " ".join(said)


def _stays(request: HttpRequest, proposed: asked.Proposed) -> dict[str, Any]:
    place = Place.objects.filter(code=tidy_code(request.GET.get("place", "").replace("\x00", ""))).first()
    recipe = PROPOSED if proposed.by_kind else ""
    stays = {name: request.GET[name] for name in _STAYS if name in request.GET}
    return {"kind": Kind.MOLD, "recipe": recipe, **stays, "place": place}


@needs(can_lead)
@require_POST
def take_back(request: HttpRequest, code: str) -> HttpResponse:
    """A tool that this person took in today by mistake is taken out of use again; or put back, with `put=back`."""
    if found(code) is None:
        raise Http404
    tool = next((one for one in asked.brought_in(request.user, clock.now()) if one.code == code), None)
    if tool is None:
        raise Refused(_("Only what you took in today can be taken back here."))
    try:
        if request.POST.get("put") == "back":
            services.put_back(tool, by=request.user)
            messages.success(request, _("Put back: %(tool)s is in use as it was taken in.") % {"tool": code})
        else:
            services.take_back(tool, by=request.user)
            messages.success(request, _("Taken back: %(tool)s is retired. Below it can be put back.") % {"tool": code})
    except Refused as refused:
        messages.warning(request, refused.message)
    return redirect("walk")


@keeps_typed
@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def starting_state(request: HttpRequest, code: str) -> HttpResponse:
    """How a tool stands whose past was not recorded; said again as long as nothing else is written of it."""
    tool = found(code)
    if tool is None or not tool.has_surface:
        raise Http404
    frame = _frame()
    family = families([tool.pk], frame["now"]).get(tool.pk, "")
    form = StartForm(sent(request)[0], family=family, now=frame["now"], shop=frame["shop"])
    if is_good(request, form):
        try:
            token = form.cleaned_data["token"]
            services.say_how_it_stands(tool, by=request.user, start=form.start(), token=token)
        except Refused as refused:
            form.told(refused)
        else:
            messages.success(request, _("Written down: how %(tool)s stands.") % {"tool": tool.code})
            return redirect("board" if Tool.objects.count() == 1 else reverse("tool", args=[tool.code]))
    begun, before = asked.begun(tool), asked.starting_state(tool)
    return render(
        request, "tooling/starting_state.html", {"tool": tool, "form": form, "begun": begun, "before": before, **frame}
    )


def _frame() -> dict[str, Any]:
    return {**framed(), "only_here": is_own(settings.SITE_URL)}
