"""What the views of deeds share: who may open them, the tool, the page, and where one goes afterwards."""

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared.access import can_log, needs
from shared.clock import now
from shared.keep_typed import keeps_typed, typed_before
from tooling.models import Entry, Shop, Tool
from tooling.selectors.floor import Floor, floor
from tooling.selectors.just_written import just_written
from tooling.selectors.work_cautions import at_work
from tooling.views.deeds.part import back_to_part, part_asked
from tooling.views.deeds.station import back_to_rows
from tooling.views.pin import takes_pin

View = Callable[..., HttpResponse]


def deed(rule: Callable[[Any], bool] = can_log) -> Callable[[View], View]:
    """A page that is opened and posted, by those for whom the rule holds; no browser keeps a copy of it."""

    def opened(view: View) -> View:
        methods = require_http_methods(["GET", "HEAD", "POST"])
        return keeps_typed(needs(rule)(never_cache(takes_pin(methods(back_to_part(back_to_rows(view)))))))

    return opened


def on_the_floor(code: str, kinds: frozenset[str] | None = None) -> Floor:
    """The tool as it stands now; not found where there is none, or where a deed is not for its kind."""
    tool = Tool.objects.called(code).select_related("summary").first()
    if tool is None or (kinds is not None and tool.kind not in kinds):
        raise Http404
    return floor(tool, now())


def entry_of(on: Floor, number: int) -> Entry:
    """The entry of that number within the tool's own history."""
    return get_object_or_404(Entry.objects.select_related("by", "recorded_by"), tool=on.tool, number=number)


def asked(request: HttpRequest, on: Floor) -> dict[str, Any]:
    """What every form of a deed is made with: also what was sent here before signing in, to be looked over."""
    kept = typed_before(request)
    data = request.POST if request.method == "POST" else kept
    files = request.FILES if request.method == "POST" else None
    return {"data": data, "files": files, "kept": kept is not None, "who": request.user, "shop": on.shop, "now": on.at}


def page(request: HttpRequest, template: str, on: Floor, form: Any, **more: Any) -> HttpResponse:
    """The page of a deed: with an empty form, or with what was typed and what is wrong with it.

    Where a page that is open asks what the deed would do, that alone; all of it where more changes (`beside`). The
    template is one of the deeds here, or that of another app with its folder.
    """
    if getattr(form, "looking", False) and "beside" not in more:
        return render(request, "tooling/deeds/_would.html", {"form": form})
    given = {"on": on, "tool": on.tool, "said": on.said, "shop": on.shop, "now": on.at, "zone": on.shop.zone}
    given["back_to_part"] = part_asked(request)
    if "cautions" not in more:
        given["cautions"] = at_work(on.tool.kind, [on.tool.pk])
    name = template if "/" in template else f"tooling/deeds/{template}"
    return render(request, f"{name}.html", {**given, "form": form, **more})


def to_tool(on: Floor) -> HttpResponse:
    """Back to the tool, where what was just written stands on its strip of tape."""
    return redirect("tool", code=on.tool.code)


def strip_for(request: HttpRequest, tool: Tool, shop: Shop) -> dict[str, Any]:
    """What the strip of tape needs, for any page of the tool that shows it."""
    return {"written": just_written(tool, request.user, now(), shop)}
