"""The shop's temperature: asked once a day, and the measurements of the last days."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from shared.going_back import local
from shared.keep_typed import keeps_typed, typed_before
from tooling.forms.temperature import StrikeForm, TemperatureForm
from tooling.models import Temperature
from tooling.selectors.shop_temperature import shop_temperature
from tooling.selectors.temperature import lately
from tooling.services import temperature as services
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from tooling.views.same_hand import asks_same_hand


@keeps_typed
@needs(can_read)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def temperature(request: HttpRequest) -> HttpResponse:
    """What is measured now or was earlier, and those of the last days. `back`: the page that asked for it."""
    if request.method == "POST" and not can_log(request.user):
        raise PermissionDenied
    frame = framed()
    form = TemperatureForm(**_asked(request, frame), initial={"value": request.GET.get("value", "")[:40]})
    if form.is_valid():
        with form.told():
            services.measure(form.facts(), **form.said())
            return _back(request)
    zone, at = frame["zone"], frame["now"]
    context = {
        "form": form,
        "measured": shop_temperature(at, zone),
        "days": lately(at, zone, request.user),
        "may_log": can_log(request.user),
        "may_lead": can_lead(request.user),
        "back": _local(request),
    }
    return render(request, "tooling/temperature.html", {**context, **frame})


@needs(can_log)
@takes_pin
@require_POST
def rub_out_temperature(request: HttpRequest, number: int) -> HttpResponse:
    """One's own of the last five minutes counts no more."""
    one = get_object_or_404(Temperature, pk=number)
    asks = asks_same_hand(request, wrote=one.by_id, what=_("The shop’s temperature of a moment ago."))
    if asks is not None:
        return asks
    try:
        services.rub_out(one, recorded_by=request.user)
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, _("Rubbed out: that temperature counts no more."))
    return _back(request)


@keeps_typed
@needs(can_lead)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def strike_temperature(request: HttpRequest, number: int) -> HttpResponse:
    """A wrong one counts no more; it stays to be read, with the reason."""
    frame = framed()
    one = get_object_or_404(Temperature.objects.select_related("by"), pk=number)
    form = StrikeForm(**_asked(request, frame))
    if form.is_valid():
        with form.told():
            services.strike(one, by=request.user, reason=form.cleaned_data["why"])
            messages.success(request, _("Struck out: it stays to be read, with your reason."))
            return redirect("temperature")
    return render(request, "tooling/temperature_strike.html", {"one": one, "form": form, **frame})


def _asked(request: HttpRequest, frame: dict[str, Any]) -> dict[str, Any]:
    kept = typed_before(request)
    data = request.POST if request.method == "POST" else kept
    return {"data": data, "kept": kept is not None, "who": request.user, "shop": frame["shop"], "now": frame["now"]}


def _local(request: HttpRequest) -> str:
    """The page of ours that asked; "" for none."""
    return local(request.POST.get("back", "") or request.GET.get("back", ""))


def _back(request: HttpRequest) -> HttpResponse:
    return redirect(_local(request) or "temperature")
