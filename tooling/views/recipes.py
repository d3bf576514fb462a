"""Release recipes: what they say, what was changed when, and a lead's change from now on."""

from datetime import datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shared import clock
from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from tooling.forms.recipes import NewRecipeForm, VersionForm
from tooling.models import NO_SOURCE, RecipeVersion, ReleaseSystem, Shop, tidy_code
from tooling.selectors import recipes as asked
from tooling.selectors.lots import lots_of
from tooling.selectors.what_if import with_version
from tooling.services.recipes import add_system, add_version, drafted_version
from tooling.services.starters import STARTERS, Starter, add_starter
from tooling.words import recipes as words

# Tools named on a recipe's page; more are counted.
NAMED = 40


@needs(can_read)
@require_safe
def recipes(request: HttpRequest) -> HttpResponse:
    """All recipes, and the starter recipes that the shop has not taken in."""
    at = clock.now()
    listed = asked.listed(at, words.NUMBERS)
    have = {one.version.system.code for one in listed}
    starters = [(starter, _on_offer(starter)) for code, starter in STARTERS.items() if code not in have]
    context = {"recipes": listed, "starters": starters, "source": NO_SOURCE, "may_lead": can_lead(request.user)}
    return render(request, "tooling/recipes.html", {**context, **_frame(at)})


def _on_offer(starter: Starter) -> RecipeVersion:
    """The version that it would begin with, not stored."""
    columns = {"supplier_sheet": str(NO_SOURCE), **starter.columns}
    return RecipeVersion(name=str(starter.name), family=starter.family, **columns)


@needs(can_read)
@require_safe
def recipe(request: HttpRequest, code: str) -> HttpResponse:
    """One recipe: its numbers now, its versions, the tools on it."""
    system = _system(code)
    if system.code != code:
        return redirect("recipe", code=system.code)
    at = clock.now()
    versions = asked.versions(system, list(words.COLUMNS), at)
    current = next((one.version for one in versions if one.holds), None)
    tools = asked.tools_on(system.code)
    context = {
        "system": system,
        "current": current,
        "groups": _groups(current, request.user.units) if current is not None else (),
        "versions": [(one, _changes(one, request.user.units)) for one in versions],
        "tools": tools[:NAMED],
        "tool_count": tools.count(),
        "lots": lots_of(system.code),
        "may_lead": can_lead(request.user),
        "changed": _own_numbers(current) if current is not None else (),
    }
    return render(request, "tooling/recipe.html", {**context, **_frame(at)})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, code: str) -> HttpResponse:
    """A further version of a recipe, from now on: typed, shown what it would change, and saved from there."""
    system, at = _system(code), clock.now()
    current = RecipeVersion.objects.in_force(at).filter(system=system).first()
    if current is None:
        raise Http404
    form = VersionForm(current, request.POST if request.method == "POST" else None, system=request.user.units)
    do = request.POST.get("do", "show")
    if do != "edit" and form.is_valid():
        try:
            if do == "save":
                add_version(system, at=clock.now(), columns=form.columns())
                messages.success(request, _("Changed from now on. The tools on it are judged by the new numbers."))
                return redirect("recipe", code=system.code)
            return _preview(request, current, drafted_version(system, columns=form.columns()), at)
        except Refused as refused:
            form.told(refused)
    return render(request, "tooling/recipe_change.html", {"system": system, "form": form, **_frame(at)})


def _preview(request: HttpRequest, current: RecipeVersion, new: RecipeVersion, at: datetime) -> HttpResponse:
    """What a version that is not written yet changes, and which tools' states."""
    changes = asked.Version(new, asked.changes(current, new, list(words.COLUMNS)), holds=False)
    context = {
        "system": current.system,
        "changes": _changes(changes, request.user.units),
        "preview": with_version(new, at),
        "kept": [(name, value) for name, value in request.POST.items() if name not in ("do", "csrfmiddlewaretoken")],
    }
    return render(request, "tooling/recipe_preview.html", {**context, **_frame(at)})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def new_recipe(request: HttpRequest) -> HttpResponse:
    """A recipe from nothing, or beginning with the numbers of another one or of a starter."""
    at = clock.now()
    there, wanted = asked.in_force(at), tidy_code(request.GET.get("from", ""))
    begins = there.get(wanted) or (_on_offer(STARTERS[wanted]) if wanted in STARTERS else RecipeVersion())
    form = NewRecipeForm(begins, request.POST if request.method == "POST" else None, system=request.user.units)
    if form.is_valid():
        try:
            made = add_system(code=form.cleaned_data["code"], columns=form.columns())
        except Refused as refused:
            form.told(refused)
        else:
            messages.success(request, _("Made. Tools that are put on it are judged by its numbers."))
            return redirect("recipe", code=made.system.code)
    copies = [*there, *(code for code in STARTERS if code not in there)]
    context = {"form": form, "copies": copies, "begun_from": wanted if begins.family else ""}
    return render(request, "tooling/recipe_new.html", {**context, **_frame(at)})


@needs(can_lead)
@require_POST
def take_in(request: HttpRequest, code: str) -> HttpResponse:
    """Take a starter recipe into the shop; twice is harmless."""
    if tidy_code(code) not in STARTERS:
        raise Http404
    try:
        add_starter(code)
    except Refused:
        if not ReleaseSystem.objects.filter(code=tidy_code(code)).exists():
            raise
    else:
        messages.success(request, _("Taken in. Its numbers are common practice without a source: set your own."))
    return redirect("recipe", code=tidy_code(code))


def _system(code: str) -> ReleaseSystem:
    system = ReleaseSystem.objects.filter(code=tidy_code(code)).first() if "\x00" not in code else None
    if system is None:
        raise Http404
    return system


def _frame(at: datetime) -> dict[str, Any]:
    shop = Shop.current()
    return {"shop": shop, "zone": shop.zone, "now": at}


def _groups(version: RecipeVersion, system: str) -> list[tuple[str, list[tuple[str, str]]]]:
    return [
        (
            str(title),
            [(words.label(column), words.value(column, getattr(version, column), system)) for column in columns],
        )
        for title, columns in words.GROUPS
    ]


def _own_numbers(current: RecipeVersion) -> list[str]:
    return [
        words.label(column).lower() for column in asked.set_since([current], words.NUMBERS).get(current.system_id, ())
    ]


def _changes(one: asked.Version, system: str) -> list[tuple[str, str, str]]:
    return [
        (
            words.label(change.column),
            words.value(change.column, change.before, system),
            words.value(change.column, change.after, system),
        )
        for change in one.changes
    ]
