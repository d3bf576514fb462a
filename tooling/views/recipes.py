"""Release recipes: what they say, what was changed when, and a lead's change from now on."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shared import clock
from shared.access import can_lead, can_read, needs
from shared.errors import Refused
from tooling.forms.recipes import VersionForm
from tooling.models import RecipeVersion, ReleaseSystem, Shop, tidy_code
from tooling.selectors import recipes as asked
from tooling.services.recipes import add_version
from tooling.services.starters import SOURCE, STARTERS, Starter, add_starter
from tooling.words import recipes as words

# Tools named on a recipe's page; more are counted.
NAMED = 40


@needs(can_read)
@require_safe
def recipes(request: HttpRequest) -> HttpResponse:
    """All recipes, and the starter recipes that the shop has not taken in."""
    at = clock.now()
    listed = asked.listed(at)
    have = {one.version.system.code for one in listed}
    starters = [(starter, _on_offer(starter)) for code, starter in STARTERS.items() if code not in have]
    context = {"recipes": listed, "starters": starters, "source": SOURCE, "may_lead": can_lead(request.user)}
    return render(request, "tooling/recipes.html", {**context, **_frame(at)})


def _on_offer(starter: Starter) -> RecipeVersion:
    """The version that it would begin with, not stored."""
    return RecipeVersion(name=str(starter.name), family=starter.family, **starter.columns)


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
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/recipe.html", {**context, **_frame(at)})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, code: str) -> HttpResponse:
    """A further version of a recipe, from now on."""
    system, at = _system(code), clock.now()
    current = RecipeVersion.objects.in_force(at).filter(system=system).first()
    if current is None:
        raise Http404
    form = VersionForm(current, request.POST if request.method == "POST" else None, system=request.user.units)
    if form.is_valid():
        columns = {name: value for name, value in form.cleaned_data.items() if name in words.COLUMNS}
        try:
            add_version(system, at=clock.now(), columns=columns)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, refused.message)
        else:
            messages.success(request, _("Changed from now on. The tools on it are judged by the new numbers."))
            return redirect("recipe", code=system.code)
    return render(request, "tooling/recipe_change.html", {"system": system, "form": form, **_frame(at)})


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


def _frame(at) -> dict[str, object]:
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


def _changes(one: asked.Version, system: str) -> list[tuple[str, str, str]]:
    return [
        (
            words.label(change.column),
            words.value(change.column, change.before, system),
            words.value(change.column, change.after, system),
        )
        for change in one.changes
    ]
