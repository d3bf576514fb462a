"""A tin is opened where somebody is signed in: at a station, or for the person whose phone it is."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from shared.clock import now
from shared.keep_typed import typed_before
from tooling.forms.deeds.surface import TinForm
from tooling.models import RecipeVersion, Shop, Stuff, tidy_code
from tooling.selectors.coats import what_goes_on
from tooling.selectors.tins import open_tins, recent_lots_of
from tooling.services.tins import close_tin, open_tin
from tooling.views.deeds.base import deed


@deed()
def tin(request: HttpRequest, recipe_code: str) -> HttpResponse:
    """The lot that is on it; from then on it goes onto every coat that is written here. Or it is put away."""
    recipe = _in_force(recipe_code)
    shop, stuffs = Shop.current(), what_goes_on(recipe)
    wanted = request.GET.get("stuff", "")
    kept = typed_before(request)
    data = request.POST if request.method == "POST" else kept
    start = {"stuff": wanted if wanted in stuffs else stuffs[-1 if len(stuffs) == 1 else stuffs.index("coat")]}
    form = TinForm(
        data, kept=kept is not None, who=request.user, shop=shop, now=now(), stuffs=stuffs, initial=start,
    )  # fmt: skip
    there = open_tins(request.user, recipe.system.code)
    if request.method == "POST" and request.POST.get("put_away") in Stuff.values:
        close_tin(recipe.system, holder=request.user, stuff=request.POST["put_away"])
        messages.success(request, _("Put away: no lot is filled in until another tin is opened."))
        return _back(request)
    if form.is_valid():
        with form.told():
            opened = open_tin(recipe.system, holder=request.user, **form.facts())
            messages.success(request, _("Tin %(lot)s is open here.") % {"lot": opened.lot})
            return _back(request)
    given = {"form": form, "recipe": recipe, "tins": there, "lots": recent_lots_of(recipe.system.code), "shop": shop}
    return render(request, "tooling/deeds/tin.html", {**given, "now": form.now, "zone": shop.zone})


def _in_force(code: str) -> RecipeVersion:
    if "\x00" in code:
        raise Http404
    held = RecipeVersion.objects.in_force(now()).filter(system__code=tidy_code(code)).select_related("system").first()
    if held is None:
        raise Http404
    return held


def _back(request: HttpRequest) -> HttpResponse:
    """To the coats of the tools that it was opened for."""
    codes = [code for code in request.GET.getlist("tool") if code and "/" not in code]
    if len(codes) == 1:
        return redirect("coat", code=codes[0])
    return redirect(f"{reverse('coats_together')}?{urlencode({'tool': codes}, doseq=True)}" if codes else "coats")
