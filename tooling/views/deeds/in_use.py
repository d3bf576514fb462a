"""A tool comes into use: accepted when it is made, or brought back after it was retired."""

from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.forms.deeds.in_use import AcceptForm, ReinstateForm
from tooling.selectors.floor import floor, holds_said, standing_entries
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.words.holds import since


@deed(can_lead)
def accepted(request, code):
    """It is made: in the making no longer. What its last step and its plug say is asked about."""
    on = on_the_floor(code)
    waits = on.summary.making or on.summary.accept_again
    amiss = "" if waits else _("It is in use already: there is nothing to accept.")
    plug = floor(on.tool.made_from, on.at) if on.tool.made_from is not None else None
    plug = plug if plug is not None and plug.part_in is not None else None
    unsure = bool(on.summary.step or plug)
    form = AcceptForm(**asked(request, on), amiss=amiss, unsure=unsure)
    if form.is_valid():
        with form.told():
            form.write_down(deeds.accept, on.tool)
            return to_tool(on)
    return page(request, "accepted", on, form, amiss=amiss, plug=plug)


@deed(can_lead)
def reinstated(request, code):
    """It was taken out of use, and is brought back: held until somebody has looked at it."""
    on = on_the_floor(code)
    amiss = "" if on.summary.retired else _("It is not retired: there is nothing to bring back.")
    form = ReinstateForm(**asked(request, on), amiss=amiss)
    if form.is_valid():
        with form.told():
            form.write_down(deeds.reinstate, on.tool, reason=form.cleaned_data["reason"].strip())
            return to_tool(on)
    return page(request, "reinstated", on, form, amiss=amiss, why=_why_retired(on))


def _why_retired(on):
    """Why it was retired, and what held it by then, each with its day and person."""
    retired = [since(one, on.at, on.shop.zone) for one in standing_entries(on.tool, "retired", most=1)]
    return [*retired, *(one.words for one in holds_said(on).get(on.tool.pk, ()))]
