"""The first steps of a new shop: each a small page that leads back to the path on the morning board."""

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed
from shared.run.address import is_own
from tooling.calc.tape import Tape
from tooling.forms.begin import FirstPlaceForm, FirstRecipeForm
from tooling.forms.walk import PROPOSED, ToolPart
from tooling.models import Kind, Place, RecipeVersion, ReleaseSystem
from tooling.selectors.first_steps import Steps
from tooling.selectors.walk import proposed
from tooling.services.places import put_up
from tooling.services.starters import STARTERS, add_starter
from tooling.views.frame import framed
from tooling.views.walk import is_good, sent, taken_in, told

# Whether somebody has left the path: for this sign-in alone.
_LEFT = "steps-left"
# A bare surface, and one in service.
_TAPES = (Tape((), 0, (0, 3)), Tape(("",), 3, None))


def path_of_steps(request: HttpRequest, steps: Steps, frame: dict[str, Any]) -> HttpResponse | None:
    """The path as the page of a shop that has no tool in use yet; None where a tool is there and the path was left."""
    left = bool(request.session.get(_LEFT))
    if left and steps.tool is not None:
        return None
    context = {
        "steps": steps,
        "left": left,
        "may_lead": can_lead(request.user),
        "tapes": _TAPES,
        "only_here": is_own(settings.SITE_URL),
    }
    return render(request, "tooling/board_empty.html", {**context, **frame})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def first_place(request: HttpRequest) -> HttpResponse:
    """Where tools lie: one line."""
    form = FirstPlaceForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            places = put_up(form.cleaned_data["places"])
        except Refused as refused:
            form.add_error("line", refused.message)
        else:
            said = {"places": ", ".join(place.code for place in places)}
            messages.success(request, _("Put up: %(places)s.") % said)
            return redirect("board")
    return render(request, "tooling/begin/place.html", {"form": form, **framed()})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def first_recipe(request: HttpRequest) -> HttpResponse:
    """Starter recipes are taken in; again is harmless."""
    form = FirstRecipeForm(request.POST if request.method == "POST" else None, initial={"recipes": ["WAX"]})
    if form.is_valid():
        there = set(ReleaseSystem.objects.values_list("code", flat=True))
        for code in form.cleaned_data["recipes"]:
            if code not in there:
                add_starter(code)
        messages.success(request, _("Taken in. Their numbers are common practice without a source: set your own."))
        return redirect("board")
    offers = [
        (box, RecipeVersion(family=starter.family, **starter.columns))
        for box, starter in zip(form["recipes"], STARTERS.values(), strict=True)
    ]
    return render(request, "tooling/begin/recipe.html", {"form": form, "offers": offers, **framed()})


@keeps_typed
@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def first_tool(request: HttpRequest) -> HttpResponse:
    """The first tool, with its picture."""
    frame = framed()
    recipes = proposed(frame["now"])
    initial = {
        "kind": Kind.MOLD,
        "place": Place.objects.exclude(parent=None).order_by("pk").first() or Place.objects.order_by("pk").first(),
        "recipe": PROPOSED if recipes.by_kind else "",
    }
    form = ToolPart(*sent(request), proposed=recipes, initial=initial)
    if is_good(request, form) and (tool := taken_in(request, form, None)):
        messages.success(request, f"{told(form, tool)} {_('Now say how it stands.')}")
        return redirect("board")
    return render(request, "tooling/begin/tool.html", {"form": form, **frame})


@needs(can_read)
@require_POST
def leave(request: HttpRequest) -> HttpResponse:
    """The path is left, or taken up again."""
    request.session[_LEFT] = not request.session.get(_LEFT, False)
    return redirect("board")
