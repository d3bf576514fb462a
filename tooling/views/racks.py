"""Racks: the tree of places, one place, one that is changed, and what was seen at one."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from tooling.forms.places import PlaceForm, SeenForm
from tooling.models import Place, Shop
from tooling.selectors import places as asked
from tooling.selectors import rack as drawn
from tooling.selectors.count import last_seen
from tooling.selectors.moves import loan_ended_by
from tooling.services.places import change_place, take_down
from tooling.views import counts, opened
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from tooling.views.put_up import strip
from tooling.views.scan_moves import lead_on, put_there
from tooling.words.seen import seen_here

PAGE = 50


@needs(can_read)
@require_safe
def racks(request: HttpRequest) -> HttpResponse:
    """All places with what lies there."""
    context = {"racks": drawn.racks(), "may_lead": can_lead(request.user)}
    return render(request, "tooling/racks.html", {**context, **framed()})


@needs(can_read)
@require_safe
def open_place(request: HttpRequest, place_code: str) -> HttpResponse:
    """What a place's QR opens: its page, which knows that somebody stands before it.

    Whoever opened the tag of a tool a moment before puts the tool there.
    """
    place = Place.objects.called(place_code).first()
    if place is None:
        return no_place(request, place_code)
    proof = counts.scanned(place)
    return lead_on(request, counts.address(place, proof, None), place=place, **{counts.KEPT: proof})


def no_place(request: HttpRequest, code: str) -> HttpResponse:
    """No place has or had the code: those whose codes look like it."""
    return render(request, "tooling/no_place.html", {"code": code, "near": asked.near(code)}, status=404)


@needs(can_read)
@takes_pin
@require_safe
def place(request: HttpRequest, place_code: str) -> HttpResponse:
    """One place; another case and an older code lead to its address."""
    shown = asked.page(place_code)
    if shown is None:
        return no_place(request, place_code)
    if shown.shelf.place.code != place_code:
        return redirect("place", place_code=shown.shelf.place.code)
    return _place_page(request, shown, None)


@needs(can_log)
@takes_pin
@require_http_methods(["GET", "HEAD", "POST"])
def seen(request: HttpRequest, place_code: str) -> HttpResponse:
    """A tool was met at a place: taken only where the place was scanned just now, or from a station.

    The tag of another place takes the count there.
    """
    here = get_object_or_404(Place.objects.called(place_code))
    if request.method != "POST":
        return redirect("place", place_code=here.code)
    run = counts.run_of(request)
    form = _seen_form(request, run)
    valid = form.is_valid()
    if form.next_place is not None:
        return _move_on(request, form, run)
    if not counts.may_see(request, here):
        messages.warning(request, _("Nothing was written: scan the tag of the place first, then the tools on it."))
        return redirect("place", place_code=here.code)
    if valid:
        with form.told():
            entry = put_there(request, form.cleaned_data["tool"], here, form.said())
            if request.POST.get("then") == "tool":
                return redirect("tool", code=entry.tool.code)
            run = _run_on(form, entry.pk)
            return redirect(counts.address(here, request.GET.get("scanned", ""), run))
    return _place_page(request, asked.page(here.code), form)


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, place_code: str) -> HttpResponse:
    """Change a place, or take one down at which nothing ever was."""
    row = get_object_or_404(Place.objects.called(place_code))
    if request.POST.get("do") == "take-down":
        return _taken_down(request, row)
    form = PlaceForm(row, request.POST if request.method == "POST" else None, system=request.user.units)
    if form.is_valid():
        changes = form.changes()
        try:
            if changes:
                row = change_place(row, changes)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Changed.") if changes else _("Nothing was changed."))
            return redirect("place", place_code=row.code)
    return render(request, "tooling/place_change.html", {"form": form, "place": row, **framed()})


def _taken_down(request: HttpRequest, row: Place) -> HttpResponse:
    try:
        take_down(row)
    except Refused as refused:
        messages.warning(request, refused.message)
        return redirect("change_place", place_code=row.code)
    messages.success(request, _("Taken down: %(place)s.") % {"place": row.code})
    return redirect("racks")


def _place_page(request: HttpRequest, shown: asked.PlacePage, form: SeenForm | None) -> HttpResponse:
    here = shown.shelf.place
    may_see = can_log(request.user) and counts.may_see(request, here)
    run = counts.run_of(request) if may_see else None
    context = {
        "shown": shown,
        "place": here,
        "page": Paginator(asked.lying_at(here), PAGE).get_page(request.GET.get("page")),
        "elsewhere": asked.at_home_but_elsewhere(here)[:PAGE],
        "form": form or (_seen_form(request, run) if may_see else None),
        "may_log": can_log(request.user),
        "may_lead": can_lead(request.user),
    }
    counted = _counted(request, here, run) if may_see else {}
    return render(request, "tooling/place.html", {**context, **counted, **strip(request), **framed()})


def _counted(request: HttpRequest, here: Place, run: counts.Run | None) -> dict[str, Any]:
    """How far the count is: whose it is at a station, and what was written last."""
    proof = request.GET.get("scanned", "")
    query = counts.address(here, proof, run).partition("?")[2]
    context: dict[str, Any] = {"query": query}
    if run is None:
        return context
    last = last_seen(run.last, request.user, clock.now(), Shop.current()) if run.last is not None else None
    if last is not None and last[1] is not None:
        written, place = last
        words = seen_here(written.entry.tool, place, loan_ended_by(written.entry))
        context |= {"written": written, "seen_words": words}
    return context | {
        "run": run,
        "counting": run.hands() if request.user.is_station else None,
        "other_hands": counts.address(here, proof, replace(run, by=None)),
        "back": counts.address(here, proof, run),
    }


def _seen_form(request: HttpRequest, run: counts.Run | None) -> SeenForm:
    data = request.POST if request.method == "POST" else None
    person = run.hands() if data is not None and run is not None and request.user.is_station else None
    if data is not None and person is not None and "by" not in data:
        data = data.copy()
        data["by"] = str(person.pk)
    return SeenForm(data, who=request.user, shop=Shop.current(), now=clock.now())


def _move_on(request: HttpRequest, form: SeenForm, run: counts.Run | None) -> HttpResponse:
    """The count goes on at the place whose tag was scanned."""
    there = form.next_place
    messages.info(request, _("Now at %(place)s: what is scanned next was seen there.") % {"place": there.name})
    if run is not None or form.cleaned_data.get("by") is not None:
        run = _run_on(form, run.last if run is not None else None)
    proof = counts.scanned(there)
    return opened.leave(request, redirect(counts.address(there, proof, run)), **{counts.KEPT: proof})


def _run_on(form: SeenForm, last: int | None) -> counts.Run:
    """The count after this scan."""
    by = form.cleaned_data.get("by") if form.who.is_station else None
    if by is None:
        return counts.Run(last=last)
    return counts.Run(last=last, by=by.pk, by_at=form.now.isoformat())
