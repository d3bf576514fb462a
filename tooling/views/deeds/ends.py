"""Lay-up done, and a lay-up that is given up: on every half that it is in."""

from tooling.forms.deeds.ends import AbandonForm, LayUpDoneForm
from tooling.models import Kind
from tooling.selectors.floor import time_after_last_ply
from tooling.selectors.matched import other_halves
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.words.when import lasting


@deed()
def lay_up_done(request, code):
    """The last ply is on: the earliest pull is set anew."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    long = time_after_last_ply(on.summary.part)
    form = LayUpDoneForm(**_asked(request, on))
    if form.is_valid():
        with form.told():
            form.write_down(deeds.end_lay_up_set, form.cleaned_data["tools"], earliest_pull=form.earliest_pull)
            return to_tool(on)
    then = on.at + long if long is not None else None
    return page(request, "lay_up_done", on, form, then=then, long=lasting(long) if long is not None else "")


@deed()
def abandoned(request, code):
    """The lay-up is given up."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    form = AbandonForm(**_asked(request, on))
    if form.is_valid():
        with form.told():
            form.write_down(deeds.abandon_set, form.cleaned_data["tools"], reason=form.cleaned_data["reason"])
            return to_tool(on)
    return page(request, "abandoned", on, form)


def _asked(request, on):
    with_it = [half for half in other_halves(on.tool, on.at) if half.same_part]
    part_in = on.row.own.in_mold if on.row is not None else None
    return {**asked(request, on), "of": on.tool, "offered": with_it, "part_in": part_in}
