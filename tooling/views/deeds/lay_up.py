"""Start of lay-up: go or no-go at the mold, before anything is mixed."""

from shared.units import METRIC
from tooling.calc.entry import part_key
from tooling.forms.deeds.lay_up import LayUpForm
from tooling.models import Kind, Part
from tooling.selectors.floor import recent_parts, times_in_mold
from tooling.selectors.matched import other_halves
from tooling.selectors.off_the_plug import SOURCES, coming_off
from tooling.selectors.usable.answer import reasons
from tooling.selectors.usable.reason import LEAD
from tooling.services import deeds
from tooling.services.deeds.uses import NewlyAgainst
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.words.when import lasting

# As many part numbers as a list under a field can offer.
MOST_PARTS = 300
# What a page that is open takes anew with the part and the time: go or no-go, the revisions of that part, the earliest
# pull, the button.
BESIDE = "#verdict,#revision,#earliest,#start"


@deed()
def lay_up(request, code):
    """Whether it may be laid up in, and the start of lay-up."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    halves = other_halves(on.tool, on.at)
    free = [half for half in halves if not half.part_in]
    form = LayUpForm(**asked(request, on), tool=on.tool, of=on.tool, offered=free, **_parts(request, on))
    is_valid = form.is_valid()
    stops, notes = _against(request, on, form)
    if is_valid and (form.was_sent or form.weigh(stops)):
        try:
            with form.told():
                form.write_down(deeds.lay_up_set, form.cleaned_data["tools"], seen=form.seen, **form.facts())
                return to_tool(on)
        except NewlyAgainst as asked_first:
            form.add_error(None, asked_first.message)
        stops, notes = _against(request, on, form)
    form.fill_in_earliest()
    times = {**times_in_mold(form.parts), **form.time_of_revision}
    return page(
        request,
        "lay_up",
        on,
        form,
        beside=BESIDE,
        stops=stops,
        notes=notes,
        halves=[half for half in free if half.tool in form.meant],
        busy=[half for half in halves if half.part_in],
        may_start=form.who.is_station or form.may_start(stops),
        of_a_lead=any(one.override == LEAD for one in stops),
        parts=Part.objects.order_by("number").values_list("number", flat=True)[:MOST_PARTS],
        made=[(part, lasting(times[part]) if part in times else "") for part in form.parts],
    )


def _parts(request, on):
    """What was made in it before; that for which the page was opened comes first, with the revision that it names.

    On a plug tools are laid up: those in the making that are to come off it stand before what was made there.
    """
    recent, number = recent_parts(on.tool), request.GET.get("part", "").replace("\x00", "")
    wanted = Part.objects.numbered(number).first() if number else None
    if wanted is None:
        tools = [one.code for one in coming_off(on).all] if on.tool.kind in SOURCES else []
        tools.sort(key=lambda code: code != part_key(number))
        return {"parts": list(dict.fromkeys([*tools, *recent]))}
    named = (wanted.number, request.GET["revision"].strip()) if "revision" in request.GET else None
    return {"parts": [wanted.number, *(part for part in recent if part != wanted.number)], "named": named}


def _against(request, on, form):
    """What stops it, and what is only to be known."""
    units = getattr(request.user, "units", METRIC)
    asked_for = {"part": form.asked_part, "revision": form.asked_revision, "film": form.with_film}
    by_tool = reasons(form.meant, form.start, units=units, **asked_for)
    found = [reason for tool in form.meant for reason in by_tool[tool.pk]]
    return [one for one in found if one.stops], [one for one in found if not one.stops]
