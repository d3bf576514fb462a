"""A station asks the hand that wrote something before it is rubbed out there."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.functional import Promise

from shared import clock
from shared.keep_typed import PIN
from tooling.forms.deeds.undo import RubOutForm
from tooling.views.frame import framed

_OF_THE_ANSWER = ("csrfmiddlewaretoken", "by", PIN)


def asks_same_hand(request: HttpRequest, *, wrote: int | None, what: str | Promise) -> HttpResponse | None:
    """The page that asks; None where it is answered, or where nobody has to be asked.

    `wrote`: the key of the person whose hands they were. `what`: what is rubbed out, in words.
    """
    if not request.user.is_station:
        return None
    form = RubOutForm(request.POST, who=request.user, wrote=wrote, now=clock.now())
    if form.is_valid():
        return None
    kept = [(name, one) for name, all_of in request.POST.lists() if name not in _OF_THE_ANSWER for one in all_of]
    # Nothing is wrong before a name was tapped.
    wrong = form.errors.get("by", []) if "by" in request.POST else []
    return render(
        request, "tooling/same_hand.html", {"form": form, "what": what, "kept": kept, "wrong": wrong, **framed()}
    )
