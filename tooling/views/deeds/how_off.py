"""How the other half came off, while nobody has said it."""

from django.http import Http404
from django.shortcuts import redirect

from tooling.forms.deeds.how_off import HowOffForm
from tooling.models import Kind
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, to_tool
from tooling.words.terms import CAME_OFF


@deed()
def how_off(request, code, number):
    """The five marks of a pull that was written from another half; a lead says it after a day as well."""
    on = on_the_floor(code, Kind.WITH_SURFACE)
    pull = entry_of(on, number)
    if pull.kind != "pull":
        raise Http404
    form = HowOffForm(**asked(request, on))
    if form.is_valid():
        token, came_off = form.said()["token"], form.cleaned_data["came_off"]
        with form.told():
            pull = deeds.say_how(pull, came_off=came_off, recorded_by=request.user, token=token)
            # What else was seen can be said now, as after any pull.
            return redirect("seen", code=pull.tool.code, number=pull.number)
    if not form.is_bound and (pull.came_off or deeds.gone(pull)):
        return to_tool(on)
    may = deeds.may_say_how(pull, request.user)
    return page(request, "how_off", on, form, pull=pull, marks=list(CAME_OFF), may=may)
