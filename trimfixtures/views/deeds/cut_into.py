"""A cut gouged, or slipped: what it went into, and what becomes of the part."""

from django.http import Http404
from django.shortcuts import redirect

from tooling.calc.entry import SPOILING
from tooling.services.deeds.alongside import in_place_of
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page
from trimfixtures.forms.deeds.cut_into import CutIntoForm
from trimfixtures.services import deeds
from trimfixtures.services.deeds.cut_into import said_of
from trimfixtures.views.deeds.kinds import TRIM_MASKS
from trimfixtures.words.outcomes import INTO


@deed()
def cut_into(request, code, number):
    """Four buttons; afterwards the cross while it is held, else the trim bench, where the part waits or is gone."""
    on = on_the_floor(code, TRIM_MASKS)
    cut = in_place_of(entry_of(on, number))
    if cut.kind != "used" or cut.payload.get("outcome") not in SPOILING:
        raise Http404
    form = CutIntoForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            said = form.said()
            who = {"by": said["by"], "recorded_by": request.user, "token": said["token"]}
            deeds.say_cut_into(cut, form.cleaned_data["into"], **who)
            if on.summary.held_since is not None:
                return redirect("tape_cross", code=on.tool.code, number=cut.number)
            return redirect("trim_bench")
    return page(request, "trimfixtures/deeds/cut_into", on, form, cut=cut, into=INTO.items(), chosen=said_of(cut))
