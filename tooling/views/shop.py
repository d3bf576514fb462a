"""The settings of the shop: typed, shown what they change, kept."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.shop import ShopForm, zones
from tooling.models import Shop, Summary, Tool
from tooling.selectors.held_now import barred_if_formal
from tooling.selectors.what_if import in_zone
from tooling.services.jobs import ask
from tooling.services.shop import JOB, change_shop, takes_long
from tooling.words import shop as words


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def shop_settings(request: HttpRequest) -> HttpResponse:
    """All settings on one page; a change is shown first, and kept from there."""
    shop, at = Shop.current(), clock.now()
    form = ShopForm(shop, request.POST if request.method == "POST" else None)
    context: dict[str, object] = {}
    if form.is_valid():
        changes = form.changes()
        if not changes:
            messages.success(request, _("Nothing was changed."))
            return redirect("shop_settings")
        if request.POST.get("do") == "keep" and takes_long(changes):
            return redirect("job", number=ask(JOB, by=request.user, at=at, given=changes).pk)
        if request.POST.get("do") == "keep" and (words_kept := _kept(form, changes)):
            messages.success(request, words_kept)
            return redirect("shop_settings")
        if not form.errors:
            context = _shown(shop, changes, at)
    frame = {"shop": Shop.current(), "zone": shop.zone, "now": at}
    return render(request, "tooling/shop.html", {"form": form, "zones": zones(), **context, **frame})


def _kept(form: ShopForm, changes: dict[str, object]) -> str:
    """Keeps the changes and says so; "" where they were refused."""
    try:
        tools = change_shop(changes)
    except Refused as refused:
        form.told(refused.field, refused.message)
        return ""
    return " ".join(filter(None, [_("Kept."), words.worked_out_anew(tools) if tools else ""]))


def _shown(shop: Shop, changes: dict[str, object], at: datetime) -> dict[str, object]:
    """What is changed from what to what, and for another zone which tools' states that changes."""
    rows = [
        (words.LABELS[name], words.value(name, getattr(shop, name)), words.value(name, new))
        for name, new in changes.items()
    ]
    formal = changes.get("formal_records")
    said = [] if formal is None else _formal(bool(formal), at)
    if "time_zone" not in changes:
        return {"meant": rows, "formal": said}
    if takes_long(changes):
        return {"meant": rows, "formal": said, "long": True, "anew": words.worked_out_anew(Tool.objects.count())}
    found = in_zone(ZoneInfo(str(changes["time_zone"])), at)
    return {"meant": rows, "formal": said, "anew": words.worked_out_anew(found.tools), "preview": found}


def _formal(on: bool, at: datetime) -> list[str]:
    making = Summary.objects.filter(making=True).count()
    return words.formal(on, making, barred_if_formal(at) if on else ())
