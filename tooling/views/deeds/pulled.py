"""A part comes off: one tap on how it came off, and then, for whoever knows more, what is seen."""

from django.shortcuts import redirect

from tooling.calc.entry import HARD
from tooling.forms.deeds.uses import PullForm, SeenForm
from tooling.models import Kind
from tooling.selectors.just_written import just_written
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, to_tool
from tooling.words.lines import lift
from tooling.words.terms import CAME_OFF

# After these somebody has to look whether the tool is marked.
MARKED = ("stuck", "lost")


@deed()
def pulled(request, code):
    """How it came off, written with one tap."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = PullForm(**asked(request, on), on=on)
    if form.is_valid():
        with form.told():
            entry = deeds.log_pull(on.tool, **form.facts(), **form.said())
            return redirect("seen", code=on.tool.code, number=entry.number)
    return page(request, "pulled", on, form, marks=list(CAME_OFF), lift=lift(on.tool))


@deed()
def seen(request, code, number):
    """What is seen of a pull that was just written; when its five minutes are over, the tool's page is the place."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    pull = entry_of(on, number)
    form = SeenForm(**asked(request, on), on=on, pull=pull)
    if form.is_valid():
        with form.told():
            entry = deeds.add_to_pull(
                pull,
                changes=form.facts(),
                not_looked=form.cleaned_data["looked"] == "not_looked",
                recorded_by=request.user,
                token=form.cleaned_data["token"],
            )
            if form.cleaned_data["came_off"] and entry.kind == "pull":
                return redirect("seen", code=on.tool.code, number=entry.number)
            return to_tool(on)
    written = just_written(on.tool, request.user, on.at, on.shop)
    if not form.is_bound and (written is None or written.entry.pk != pull.pk or pull.kind != "pull"):
        return to_tool(on)
    hard, badly = pull.came_off in HARD, pull.came_off in MARKED
    return page(request, "seen", on, form, marks=list(CAME_OFF), pull=pull, written=written, hard=hard, badly=badly)
