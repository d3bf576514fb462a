"""A part is trimmed: one tap on how it went. What was spoiled holds the trim mask, and asks for a picture."""

from django.shortcuts import redirect

from tooling.calc.entry import SPOILING
from tooling.selectors.usable.answer import reasons
from tooling.services.deeds.uses import NewlyAgainst
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from trimfixtures.forms.deeds.uses import TrimForm
from trimfixtures.selectors.trimming import offered
from trimfixtures.services import deeds
from trimfixtures.views.deeds.kinds import TRIM_MASKS
from trimfixtures.words.outcomes import OUTCOMES

# What a page that is open takes anew with the part and the time: what stands against it.
BESIDE = "#against,#known"


@deed()
def trimmed(request, code):
    """What stands against it, and the four ways it may have gone; what has happened is always written down."""
    on = on_the_floor(code, TRIM_MASKS)
    chosen = {name: request.GET.get(name, "").replace("\x00", "") for name in ("part", "serial")}
    form = TrimForm(**asked(request, on), tool=on.tool, offered=offered(on.tool, on.at, **chosen))
    if form.is_valid():
        try:
            with form.told():
                entry = form.write_down(deeds.trim, on.tool, seen=form.seen, **form.facts())
                return _after(on, entry)
        except NewlyAgainst as asked_first:
            form.add_error(None, asked_first.message)
    stops, notes = _against(request, on, form)
    return page(
        request,
        "trimfixtures/deeds/trimmed",
        on,
        form,
        beside=BESIDE,
        stops=stops,
        notes=notes,
        outcomes=[(word, one, word in SPOILING) for word, one in OUTCOMES.items()],
    )


def _after(on, entry):
    if entry.payload.get("outcome") in SPOILING:
        return redirect("tape_cross", code=on.tool.code, number=entry.number)
    if entry.payload.get("outcome") == "off_size":
        return redirect("check_edge", code=on.tool.code)
    return to_tool(on)


def _against(request, on, form):
    """What stops it, and what is only to be known."""
    at = (form.cleaned_data.get("at") if form.is_bound else None) or on.at
    found = reasons([on.tool], at, part=form.asked_part, revision=form.revision, units=request.user.units)[on.tool.pk]
    return [one for one in found if one.stops], [one for one in found if not one.stops]
