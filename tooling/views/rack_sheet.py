"""The sheet of a rack, to be printed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import one_moment
from tooling.models import Shop
from tooling.selectors.places import page
from tooling.services.on_paper import asked_paper
from tooling.services.rack_sheet import draw
from tooling.views.paper import printed
from tooling.views.racks import no_place


@needs(can_read)
@never_cache
@require_safe
def rack_sheet(request: HttpRequest, place_code: str) -> HttpResponse:
    """A rack, or any place, on paper as it is now: drawn, and as a list."""
    with one_moment() as at:
        shown, shop = page(place_code), Shop.current()
    if shown is None:
        return no_place(request, place_code)
    code, units = shown.shelf.place.code, request.user.units
    if code != place_code:
        return redirect(reverse("rack_sheet", args=[code], query=request.GET))
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(shown, at=at, shop=shop, who=request.user.name, units=units, paper=paper),
        name=code, at=at, zone=shop.zone, back=reverse("place", args=[code]), about=code,
    )  # fmt: skip
