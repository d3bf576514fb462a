"""Putting a tool somewhere, and back home with one tap."""

from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_POST

from shared.access import can_log, needs
from tooling.forms.deeds.places import HomeForm, MoveForm
from tooling.models import tidy_code
from tooling.selectors import scans
from tooling.selectors.moves import before_moving
from tooling.services import deeds
from tooling.services.deeds.undo import sent_before
from tooling.views import counts
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.pin import takes_pin


@deed()
def move(request, code):
    """It was put somewhere; `to` in the address is the place that is proposed."""
    on = on_the_floor(code)
    proposed = scans.place(request.GET.get("to", ""))
    form = MoveForm(
        **asked(request, on), tool=on.tool, initial={"place": proposed.pk if proposed is not None else None}
    )
    form.put_first(counts.place_of(counts.kept(request)), on.summary.home)
    if form.is_valid():
        with form.told():
            data = form.cleaned_data
            form.write_down(deeds.move, on.tool, place=data["place"], home=data.get("home", False))
            return to_tool(on)
    known = proposed is not None and not form.is_bound
    doubts = form.ask(before_moving(on.tool, proposed, request.user.units)) if known else []
    return page(request, "move", on, form, doubts=doubts, cautions=())


@needs(can_log)
@takes_pin
@require_POST
def put_home(request, code):
    """It was put back home. A station is asked whose hands, so it goes the longer way, and so does what is doubtful."""
    on = on_the_floor(code)
    form, home = HomeForm(request.POST), on.summary.home
    known = form.is_valid() and home is not None and tidy_code(form.cleaned_data["place"]) == home.code
    if request.user.is_station or not known or _doubtful(form, on, home, request.user):
        query = f"?{urlencode({'to': home.code})}" if home is not None else ""
        return redirect(reverse("move", args=[on.tool.code]) + query)
    who = request.user
    deeds.move(on.tool, place=home, by=who, recorded_by=who, token=form.cleaned_data["token"])
    return to_tool(on)


def _doubtful(form, on, home, who):
    """Whether something speaks against it; not for what was written already."""
    return not sent_before(form.cleaned_data["token"]) and bool(before_moving(on.tool, home, who.units))
