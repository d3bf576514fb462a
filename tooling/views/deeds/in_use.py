"""A tool comes into use: accepted when it is made, or brought back after it was retired."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.forms.deeds.in_use import IntoUseForm
from tooling.models import Entry
from tooling.selectors.floor import Floor
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool


@deed(can_lead)
def accepted(request, code):
    """It is made: in the making no longer."""
    on = on_the_floor(code)
    amiss = "" if on.summary.making else _("It is not in the making: there is nothing to accept.")
    return _into_use(request, "accepted", on, deeds.accept, amiss)


@deed(can_lead)
def reinstated(request, code):
    """It was taken out of use, and is brought back: held until somebody has looked at it."""
    on = on_the_floor(code)
    amiss = "" if on.summary.retired else _("It is not retired: there is nothing to bring back.")
    return _into_use(request, "reinstated", on, deeds.reinstate, amiss)


def _into_use(request: HttpRequest, template: str, on: Floor, write: Callable[..., Entry], amiss: str) -> HttpResponse:
    form = IntoUseForm(**asked(request, on), amiss=amiss)
    if form.is_valid():
        with form.told():
            form.write_down(write, on.tool)
            return to_tool(on)
    return page(request, template, on, form, amiss=amiss)
