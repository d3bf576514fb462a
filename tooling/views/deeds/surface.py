"""What goes on the surface and comes off it."""

from datetime import timedelta

from django.shortcuts import redirect

from tooling.forms.deeds.surface import CoatForm, FilmForm
from tooling.models import Kind
from tooling.selectors.floor import ahead, coats_on, recent_lots
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool

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
            return _after_a_coat(code)
    return page(
        request,
        "coat",
        on,
        form,
        plan=plan,
        done=coats_on(on, plan) if plan else [],
        lately=plan is not None and (plan.on > 0 or _wiping(on, plan)) and _since(on, plan) < CLOCK_RUNS,
        lots=recent_lots(on.tool),
        **strip_for(request, on.tool, on.shop),
    )


def _after_a_coat(code):
    """Here again while a coat is missing or has to be wiped: the clock runs here. Then back to the tool."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    plan = ahead(on)
    more = plan is not None and (plan.missing or plan.sealers or _wiping(on, plan))
    return redirect("coat", code=on.tool.code) if more else to_tool(on)


def _wiping(on, plan):
    """Whether the wait before the last coat is wiped still runs."""
    return _since(on, plan) < timedelta(minutes=float(on.recipe.wipe_minutes))


def _since(on, plan):
    return on.at - plan.last_at if plan.last_at is not None else timedelta.max


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
