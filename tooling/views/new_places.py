"""New places: a rack drawn before it is put up, and places on the floor of the shop with one tap each."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from shared.access import can_lead, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, sent
from tooling.forms.new_places import NewPlacesForm, on_floor
from tooling.selectors.rack import RackDrawing, as_drawn
from tooling.services.places import NewPlace, put_up
from tooling.services.places_down import take_all_down
from tooling.views import put_up as put
from tooling.views.frame import framed

_TYPED = ("lines", "within", "heights", "load")


@keeps_typed
@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def new_places(request: HttpRequest) -> HttpResponse:
    """Several new places: drawn first, put up with the second button. A tap puts up one on the floor."""
    if "floor" in request.POST:
        return _on_floor(request)
    if request.POST.get("do") == "take-down":
        return _down(request)
    given = sent(request)
    stands = {name: request.GET[name] for name in _TYPED if name in request.GET}
    form = NewPlacesForm(given, initial=stands, system=request.user.units)
    meant, drawn = _drawn(form)
    if meant and request.POST.get("do") == "put-up" and not form.names_racks:
        try:
            put_up(meant)
        except Refused as refused:
            form.add_error("lines", refused.message)
            meant = []
        else:
            inner = {one.code for one in meant}
            there = reverse("place", args=[meant[0].code])
            return redirect(put.address(there, [one.code for one in meant if one.within not in inner]))
    context = {"form": form, "meant": meant, "drawn": drawn, "on_floor": on_floor(), **put.strip(request)}
    return render(request, "tooling/places_new.html", {**context, **framed()})


def _drawn(form: NewPlacesForm) -> tuple[list[NewPlace], list[RackDrawing]]:
    """What is meant, and how it would stand; none of it where the form is wrong."""
    meant = form.cleaned_data.get("places", []) if form.is_valid() else []
    rows = {}
    try:
        for one in meant:
            rows[one.code] = one.row(rows.get(one.within))
    except Refused as refused:
        form.add_error("heights" if refused.field == "height_mm" else "load", refused.message)
        return [], []
    return meant, as_drawn(list(rows.values()))


def _on_floor(request: HttpRequest) -> HttpResponse:
    """One place on the floor, by the code on its button: tapped twice it is there once. What was typed stays."""
    new = next((one for one in on_floor() if one.code == request.POST["floor"]), None)
    typed = {name: request.POST[name] for name in _TYPED if request.POST.get(name)}
    if new is not None:
        put_up([new])
        return redirect(put.address(reverse("new_places"), [new.code], typed))
    messages.warning(request, _("Nothing was put up: such a place is there already."))
    return redirect(reverse("new_places") + (f"?{urlencode(typed)}" if typed else ""))


def _down(request: HttpRequest) -> HttpResponse:
    """What was put up a moment ago is taken down again; twice is harmless."""
    places = put.named(request.POST.get("put", ""))
    try:
        count = take_all_down(places)
    except Refused as refused:
        messages.warning(request, refused.message)
    else:
        text = ngettext("Taken down: %(n)d place.", "Taken down: %(n)d places.", count) % {"n": count}
        messages.success(request, text if count else _("Nothing was taken down: that was a while ago, or is done."))
    return redirect("new_places")
