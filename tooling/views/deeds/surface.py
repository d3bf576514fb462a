"""What goes on the surface and comes off it."""

from datetime import timedelta

from tooling.forms.deeds.surface import CoatForm, FilmForm, StripForm
from tooling.models import Kind
from tooling.selectors.floor import ahead, coats_on, recent_lots
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool

# The clock of the last coat is of no use the day after.
CLOCK_RUNS = timedelta(hours=12)


@deed()
def coat(request, code):
    """A coat is on: how many are missing, not before when the next, and when it could then be laid up."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    plan = ahead(on)
    form = CoatForm(**asked(request, on), own=on.summary.state.get("system"), sealer=bool(plan and plan.sealers))
    if form.is_valid():
        log = deeds.log_sealer if form.is_sealer else deeds.log_coat
        with form.told():
            log(on.tool, **form.facts(), **form.said())
            return to_tool(on)
    return page(
        request,
        "coat",
        on,
        form,
        plan=plan,
        done=coats_on(on, plan) if plan else [],
        lately=plan is not None and plan.last_at is not None and on.at - plan.last_at < CLOCK_RUNS,
        lots=recent_lots(on.tool),
    )


@deed()
def film(request, code):
    """A film is on."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = FilmForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            deeds.lay_film(on.tool, lot=form.cleaned_data["lot"], **form.said())
            return to_tool(on)
    return page(request, "film", on, form, lots=recent_lots(on.tool))


@deed()
def strip(request, code):
    """The surface is cleaned back to bare."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = StripForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            deeds.strip(on.tool, area=form.cleaned_data["area"] or "whole", **form.said())
            return to_tool(on)
    return page(request, "strip", on, form)
