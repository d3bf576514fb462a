"""Stopping a tool, and looking at it."""

from django.shortcuts import redirect

from tooling.forms.deeds.standing import HoldForm, LookedAtForm
from tooling.selectors.floor import held_by, holds_in_words
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, strip_for, to_tool


@deed()
def hold(request, code):
    """Stop: do not use. Once it is held, the same page says to tape a cross on it."""
    on = on_the_floor(code)
    form = HoldForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            deeds.hold(on.tool, reason=form.reason, **form.said())
            return redirect("hold", code=on.tool.code)
    return page(request, "hold", on, form, holds=_holds(on), **strip_for(request, on.tool, on.shop))


@deed()
def looked_at(request, code):
    """Somebody has looked: it may be used, or it stays held."""
    on = on_the_floor(code)
    form = LookedAtForm(**asked(request, on))
    if form.is_valid():
        with form.told():
            deeds.inspect(on.tool, passed=form.cleaned_data["passed"] == "yes", **form.said())
            return to_tool(on)
    return page(request, "looked_at", on, form, held_by=held_by(on), holds=_holds(on))


def _holds(on):
    return holds_in_words(on).get(on.tool.pk, [])
