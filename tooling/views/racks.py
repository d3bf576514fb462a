"""Racks: the tree of places, one place, new ones, one that is changed, and what was seen at one."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.core.signing import BadSignature, TimestampSigner
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from tooling.forms.places import NewPlacesForm, PlaceForm, SeenForm
from tooling.models import Place, Shop
from tooling.selectors import places as asked
from tooling.services import deeds
from tooling.services.places import change_place, put_up

PAGE = 50
# So long a scan of a place counts: whoever scanned it still stands before it.
SCAN_COUNTS = 30 * 60
_SIGNER = TimestampSigner(salt="tooling.scanned-place")


@needs(can_read)
@require_safe
def racks(request: HttpRequest) -> HttpResponse:
    """All places with what lies there."""
    context = {"racks": asked.racks(asked.shelves()), "may_lead": can_lead(request.user)}
    return render(request, "tooling/racks.html", {**context, **_frame()})


@needs(can_read)
@require_safe
def open_place(request: HttpRequest, place_code: str) -> HttpResponse:
    """What a place's QR opens: its page, which knows that somebody stands before it."""
    place = get_object_or_404(Place.objects.called(place_code))
    return redirect(_address(place, _SIGNER.sign(place.code)))


@needs(can_read)
@require_safe
def place(request: HttpRequest, place_code: str) -> HttpResponse:
    """One place; another case and an older code lead to its address."""
    shown = asked.page(place_code)
    if shown is None:
        raise Http404
    if shown.shelf.place.code != place_code:
        return redirect("place", place_code=shown.shelf.place.code)
    return _place_page(request, shown, None)


@needs(can_log)
@require_http_methods(["GET", "HEAD", "POST"])
def seen(request: HttpRequest, place_code: str) -> HttpResponse:
    """A tool was met at a place: taken only where the place was scanned just now, or from a station."""
    shown = asked.page(place_code)
    if shown is None:
        raise Http404
    here = shown.shelf.place
    if request.method != "POST":
        return redirect("place", place_code=here.code)
    if not _may_see(request, here):
        messages.warning(request, _("Nothing was written: scan the tag of the place first, then the tools on it."))
        return redirect("place", place_code=here.code)
    form = _seen_form(request)
    if form.is_valid():
        with form.told():
            entry = deeds.move(form.cleaned_data["tool"], place=here, **form.said())
            said = {"tool": entry.tool.code, "place": here.name}
            messages.success(request, _("Seen: %(tool)s, %(place)s.") % said)
            return redirect(_address(here, request.GET.get("scanned", "")))
    return _place_page(request, shown, form)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def new_places(request: HttpRequest) -> HttpResponse:
    """Several new places: shown first, put up with the second button."""
    form = NewPlacesForm(request.POST if request.method == "POST" else None)
    meant = form.cleaned_data.get("places", []) if form.is_valid() else []
    if meant and request.POST.get("do") == "put-up":
        try:
            put_up(meant)
        except Refused as refused:
            form.add_error("lines", refused.message)
            meant = []
        else:
            messages.success(request, _("Put up."))
            return redirect("place", place_code=meant[0].code)
    return render(request, "tooling/places_new.html", {"form": form, "meant": meant, **_frame()})


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, place_code: str) -> HttpResponse:
    """Change a place."""
    row = get_object_or_404(Place.objects.called(place_code))
    form = PlaceForm(row, request.POST if request.method == "POST" else None, system=request.user.units)
    if form.is_valid():
        changes = form.changes()
        try:
            if changes:
                row = change_place(row, changes)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Changed.") if changes else _("Nothing was changed."))
            return redirect("place", place_code=row.code)
    return render(request, "tooling/place_change.html", {"form": form, "place": row, **_frame()})


def _place_page(request: HttpRequest, shown: asked.PlacePage, form: SeenForm | None) -> HttpResponse:
    here = shown.shelf.place
    may_see = can_log(request.user) and _may_see(request, here)
    context = {
        "shown": shown,
        "place": here,
        "page": Paginator(asked.lying_at(here), PAGE).get_page(request.GET.get("page")),
        "elsewhere": asked.living_elsewhere(here)[:PAGE],
        "form": form or (_seen_form(request) if may_see else None),
        "scanned": request.GET.get("scanned", ""),
        "may_log": can_log(request.user),
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/place.html", {**context, **_frame()})


def _seen_form(request: HttpRequest) -> SeenForm:
    data = request.POST if request.method == "POST" else None
    return SeenForm(data, who=request.user, shop=Shop.current(), now=clock.now())


def _may_see(request: HttpRequest, place: Place) -> bool:
    if request.user.is_station:
        return True
    try:
        return _SIGNER.unsign(request.GET.get("scanned", ""), max_age=SCAN_COUNTS) == place.code
    except BadSignature:
        return False


def _address(place: Place, scanned: str) -> str:
    address = reverse("place", args=[place.code])
    return f"{address}?{urlencode({'scanned': scanned})}" if scanned else address


def _frame() -> dict[str, Any]:
    shop = Shop.current()
    return {"shop": shop, "zone": shop.zone, "now": clock.now()}
