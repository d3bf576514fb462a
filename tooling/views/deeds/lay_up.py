"""Start of lay-up: go or no-go at the mold, before anything is mixed."""

from tooling.forms.deeds.uses import LayUpForm
from tooling.models import Entry, Kind, Part
from tooling.selectors.floor import STOPPED, recent_parts, stops, times_in_mold
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.words.when import lasting

# As many part numbers as a list under a field can offer.
MOST_PARTS = 300


@deed()
def lay_up(request, code):
    """Whether it may be laid up in, and the start of lay-up."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = LayUpForm(**asked(request, on), tool=on.tool, parts=recent_parts(on.tool))
    found = stops(on, on.at, form.asked_part)
    times = times_in_mold(form.parts)
    if form.is_valid():
        data = form.cleaned_data
        found = stops(on, data["at"] or on.at, data["part"], bool(data["film"]))
        if not found or data["anyway"] or Entry.objects.filter(token=data["token"]).exists():
            with form.told():
                deeds.lay_up(on.tool, **form.facts(), **form.said())
                return to_tool(on)
    return page(
        request,
        "lay_up",
        on,
        form,
        stops=found,
        stopped=any(stop.status in STOPPED for stop in found),
        not_asked=form.is_bound and bool(found) and not form.errors,
        parts=Part.objects.order_by("number").values_list("number", flat=True)[:MOST_PARTS],
        made=[(part, lasting(times[part]) if part in times else "") for part in form.parts],
    )
