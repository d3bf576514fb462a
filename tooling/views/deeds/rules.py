"""By which number and which recipe a tool is judged."""

from shared.access import can_lead
from tooling.forms.deeds.rules import IntervalForm, RecipeForm
from tooling.models import Kind
from tooling.selectors.floor import recent_parts
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool


@deed(can_lead)
def interval(request, code):
    """The tool's own number of pulls after a coat, or one part's."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = IntervalForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            form.write_down(deeds.set_interval, on.tool, **form.facts())
            return to_tool(on)
    return page(request, "interval", on, form, parts=recent_parts(on.tool))


@deed(can_lead)
def release_system(request, code):
    """Another recipe: what it does to the state is shown first, and written when it is sent again."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = RecipeForm(**asked(request, on), own=on.summary.state.get("system"))
    if form.is_valid():
        with form.told():
            recipe = form.cleaned_data["release_system"]
            form.write_down(deeds.change_release_system, on.tool, release_system=recipe)
            return to_tool(on)
    return page(request, "release_system", on, form)
