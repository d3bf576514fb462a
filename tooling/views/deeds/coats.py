"""Coats as they go on, one tool's: the page with its clock, its pieces fetched anew, and what was wiped."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shared.access import can_log, needs
from tooling.forms.deeds.surface import FILM, SEALER, CoatForm, ago_in, uuid_in
from tooling.models import Entry, Kind, Wipe
from tooling.selectors.coats import Coating, coating, is_waiting
from tooling.selectors.floor import Floor, recent_lots
from tooling.selectors.tins import open_tins
from tooling.services import deeds, wiping
from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool
from tooling.views.deeds.part import back_to_part

_LOG = {SEALER: deeds.log_sealer, FILM: deeds.lay_film}


@deed()
def coat(request: HttpRequest, code: str) -> HttpResponse:
    """A coat is on: how many are missing, not before when the next, and when it could then be laid up."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    now = coating(on)
    step = now.plan.step if now.plan is not None else ""
    wanted = on.recipe.coats_new if on.recipe is not None else 0
    form = CoatForm(**asked(request, on), own=on.summary.state.get("system"), step=step, wanted=wanted)
    if form.is_valid():
        with form.told():
            form.write_down(_LOG.get(form.what_went_on, deeds.log_coat), on.tool, **form.facts())
            return _after_a_coat(code)
    more = {**live(request, now), **strip_for(request, on.tool, on.shop)}
    return page(request, "coat", on, form, lots=recent_lots(on.tool), **more)


def _after_a_coat(code: str) -> HttpResponse:
    """Here again while a step is missing or a clock runs. Then back to the tool."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    return redirect("coat", code=on.tool.code) if is_waiting(coating(on)) else to_tool(on)


def live(request: HttpRequest, now: Coating) -> dict[str, Any]:
    """What changes on the page while it is looked at, since others write and time passes."""
    recipe = now.on.recipe
    wiped = now.wiped
    return {
        "coating": now,
        "plan": now.plan,
        "tins": open_tins(request.user, recipe.system.code) if recipe is not None else {},
        "may_take_back": wiped is not None and wiping.may_take_back(wiped, request.user),
    }


@needs(can_log)
@never_cache
@require_safe
def coat_now(request: HttpRequest, code: str) -> HttpResponse:
    """The piece of the page that others change: small, and fetched anew while somebody looks at it."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    given = {"on": on, "tool": on.tool, "said": on.said, "shop": on.shop, "now": on.at, "zone": on.shop.zone}
    return render(request, "tooling/deeds/_coat_now.html", {**given, **live(request, coating(on))})


@needs(can_log)
@require_POST
@back_to_part
def wiped(request: HttpRequest, code: str) -> HttpResponse:
    """A coat was wiped, which quiets its clock; or was not after all, with `back`."""
    on: Floor = on_the_floor(code, Kind.WITH_SURFACE)
    number = request.POST.get("coat") or request.POST.get("back", "")
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        raise Http404
    entry = get_object_or_404(Entry, tool=on.tool, number=number)
    if "back" in request.POST:
        found = Wipe.objects.filter(coat=entry).order_by("-pk").first()
        if found is not None:
            wiping.take_back(found, by=request.user)
    else:
        who = None if request.user.is_station else request.user
        wiping.wipe([entry], by=who, recorded_by=request.user, ago=ago_in(request.POST), token=uuid_in(request.POST))
    return redirect("coat", code=on.tool.code)
