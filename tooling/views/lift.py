"""What a published method recommends that one person lifts: behind the shop's own words for the lift."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from tooling.calc.handling import OutsideMethod, recommended_weight_limit
from tooling.forms.lift import LiftForm
from tooling.selectors.lift import Lift, lift_of
from tooling.selectors.tool import found
from tooling.views.frame import framed
from tooling.views.no_tool import no_tool
from tooling.words import lift as words


@needs(can_read)
@require_safe
def lift(request: HttpRequest, code: str) -> HttpResponse:
    """Asks what the method asks, and answers on the same page; an old code leads to the tool's address."""
    tool = found(code)
    if tool is None:
        return no_tool(request, code)
    if tool.code != code:
        here = reverse("lift", args=[tool.code])
        return redirect(f"{here}?{asked}" if (asked := request.GET.urlencode()) else here)
    of, units = lift_of(tool), request.user.units
    form = LiftForm(request.GET if "reach" in request.GET else None, of, system=units)
    context = {
        "tool": tool,
        "lifted": of.lifted,
        "form": form,
        "answer": _answer(form, of, units) if form.is_valid() else None,
        "limits": words.LIMITS,
        "one_person": words.ONE_PERSON,
        "source": words.SOURCE,
    }
    return render(request, "tooling/lift.html", {**context, **framed()})


def _answer(form: LiftForm, of: Lift, units: str) -> words.Answer:
    asked = form.asked()
    hands = (asked["origin_cm"], asked["destination_cm"])
    try:
        return words.answer(recommended_weight_limit(**asked), of.lifted, units, hands)
    except OutsideMethod as no:
        return words.outside(no, units)
