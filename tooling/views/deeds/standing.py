"""Stopping a tool, and looking at it."""

from django.shortcuts import redirect

from tooling.forms.deeds.standing import HoldForm, LookedAtForm
from tooling.selectors.floor import held_by, holds_said
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool
from tooling.views.deeds.given import take_pictures, with_pictures
from tooling.views.entry_pictures import marked, more_pictures


@deed()
def hold(request, code):
    """Stop: do not use. Once it is held, the same page says to tape a cross on it, and takes and marks pictures."""
    on = on_the_floor(code)
    form = HoldForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            entry = deeds.hold(on.tool, reason=form.reason, **form.said())
            take_pictures(request, entry, form.cleaned_data["pictures"], by=entry.by)
            return redirect("hold", code=on.tool.code)
    return page(request, "hold", on, form, holds=holds_said(on).get(on.tool.pk, []), **_just_stopped(request, on))


def _just_stopped(request, on):
    """What was just written, and where that was a stop, its pictures."""
    strip = strip_for(request, on.tool, on.shop)
    stop = strip["written"].entry if strip["written"] is not None else None
    if stop is None or stop.kind != "hold":
        return strip
    return {**strip, "stop": stop, "marked": marked(stop, request.user), "more": more_pictures(request.user, stop)}


@deed()
def looked_at(request, code):
    """Somebody has looked: it may be used, or it stays held."""
    on = on_the_floor(code)
    form = LookedAtForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            entry = deeds.inspect(on.tool, passed=form.cleaned_data["passed"] == "yes", **form.said())
            return with_pictures(request, entry, form, to_tool(on))
    return page(request, "looked_at", on, form, held_by=held_by(on), holds=holds_said(on).get(on.tool.pk, []))
