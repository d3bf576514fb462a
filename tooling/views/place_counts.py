"""Counts of places: all of them, one that begins, and the page of one: tag after tag, and what is mended."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from tooling.forms.deeds.base import DeedForm
from tooling.forms.place_counts import MendForm, TagForm
from tooling.models import Place, Shop, Tool
from tooling.selectors import place_counts as asked
from tooling.selectors.loans import loans_ended
from tooling.selectors.rack import racks
from tooling.services import place_counts as services
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.views import mending_counts
from tooling.views.counting import Going, address, going, strip
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from tooling.words import place_counts as words

PAGE = 25


@needs(can_read)
@require_safe
def counts(request: HttpRequest) -> HttpResponse:
    """All counts, those that are open first."""
    page, at = Paginator(asked.counts(), PAGE).get_page(request.GET.get("page")), clock.now()
    rows = [(one, words.came_of(one), one.broken_off(at)) for one in asked.what_came_of(page.object_list)]
    return render(request, "tooling/counts.html", {"page": page, "rows": rows, **framed()})


@needs(can_log)
@takes_pin
@require_POST
def begin_count(request: HttpRequest, place_code: str) -> HttpResponse:
    """A place is counted from now on; where it is being counted already, that goes on. A station is asked by whom."""
    place = get_object_or_404(Place.objects.called(place_code))
    count, hands = asked.open_at(place), None
    if count is None:
        form = _form(DeedForm, request, Going())
        if not form.is_valid():
            if request.user.is_station and "by" not in request.POST:  # it came from the place: nothing is wrong yet
                form = DeedForm(who=request.user, shop=Shop.current(), now=clock.now())
            return render(request, "tooling/count_begin.html", {"place": place, "form": form, **framed()})
        said = form.said()
        hands = said["by"] if request.user.is_station else None
        try:
            count = services.begin(place, by=said["by"], token=said["token"])
        except Refused as refused:
            messages.warning(request, refused.message)
            return redirect("place", place_code=place.code)
    now = Going(at="" if count.place_id == place.pk else place.code)
    return redirect(address(count, now.on(last=None, by=hands)))


@needs(can_read)
@never_cache
@takes_pin
@require_http_methods(["GET", "HEAD", "POST"])
def count(request: HttpRequest, number: int) -> HttpResponse:
    """One count. What is sent here is the next tag; that of a place within it says where the tools after it are met."""
    if request.method == "POST" and not can_log(request.user):
        raise PermissionDenied
    page, now = _page(number), going(request)
    if request.method != "POST":
        return _shown(request, page, now, None)
    form = _form(TagForm, request, now)
    valid = form.is_valid()
    met = form.met if "tag" in form.cleaned_data else None
    if isinstance(met, Place):
        return _at_place(request, page, now, form, met)
    if valid:
        with form.told():
            return redirect(address(page.count, _write_down(form, page, now, met)))
    return _shown(request, page, now, form)


def _page(number: int) -> asked.CountPage:
    page = asked.count_page(number, clock.now())
    if page is None:
        raise Http404
    return page


def _form(of: type[Any], request: HttpRequest, now: Going) -> Any:
    """The form with what was sent; the hands that count at a station, or who is signed in, where it names nobody."""
    data = request.POST.copy()
    by = now.hands if request.user.is_station else request.user
    if "by" not in data and by is not None:
        data["by"] = str(by.pk)
    return of(data, who=request.user, shop=Shop.current(), now=clock.now())


def _at_place(request: HttpRequest, page: asked.CountPage, now: Going, form: TagForm, place: Place) -> HttpResponse:
    """Before any hands are asked: nothing is written."""
    if place.pk not in page.tree.below(page.count.place_id):
        form.errors.pop("by", None)
        said = {"place": place.name, "counted": page.count.place.name}
        form.add_error("tag", _("%(place)s is no part of %(counted)s. Count it by itself.") % said)
        return _shown(request, page, now, form)
    here = Going(place.code, now.last, now.by, now.by_at)
    return redirect(address(page.count, here))


def _write_down(form: TagForm, page: asked.CountPage, now: Going, met: Tool | str) -> Going:
    """The tool is seen, or what nobody knows is kept; how far the count is then. Raises Refused."""
    said = form.said()
    told = said["by"] if form.who.is_station else None
    if isinstance(met, Tool):
        where = asked.where_met(page, met, now.shelf(page))
        entry = services.see(page.count, met, place=where, **said)
        return now.on(last=entry.pk, by=told)
    mark = services.met_unknown(page.count, met, by=said["by"])
    return now.on(last=now.last, by=told, unknown=mark.pk)


@needs(can_log)
@takes_pin
@require_POST
def mend_count(request: HttpRequest, number: int) -> HttpResponse:
    """One tap on what the count found, or on the count itself."""
    page, now = _page(number), going(request)
    form = _form(MendForm, request, now)
    if not form.is_valid():
        for message in (message for field in form.errors.values() for message in field):
            messages.warning(request, message)
        return redirect(address(page.count, now))
    with form.told():
        done = mending_counts.mend(request, page, form)
        if done.leads_to:
            return redirect(done.leads_to)
        by = now.hands if request.user.is_station else None
        there = address(page.count, now.on(last=done.last, by=by, asks=done.asks))
        return redirect(f"{there}#end" if done.asks else there)
    for message in form.non_field_errors() or [m for field in form.errors.values() for m in field]:
        messages.warning(request, message)
    return redirect(address(page.count, now))


def _shown(request: HttpRequest, page: asked.CountPage, now: Going, form: TagForm | None) -> HttpResponse:
    frame = framed()
    at, shop = frame["now"], frame["shop"]
    is_open = page.count.ended_at is None
    may_log = can_log(request.user)
    counting = now.hands if request.user.is_station else None
    if is_open and may_log and form is None:
        form = TagForm(who=request.user, shop=shop, now=at)
    ended_lately = not is_open and at - page.count.ended_at <= RUB_OUT_WITHIN
    context = {
        "shown": page,
        "count": page.count,
        "opening": words.opening(page),
        "racks": racks(page.count.place, met=page.met_keys) if is_open else [],
        "form": form if is_open and may_log else None,
        "shelf": now.shelf(page),
        "counting": counting,
        # At a station nothing is tapped before a name is.
        "may_mend": may_log and (counting is not None or not request.user.is_station),
        "may_lead": can_lead(request.user),
        "forget": {one.pk for one in page.to_settle if services.may_forget(one, counting or request.user)},
        "unknown": next((one for one in page.to_settle if one.pk == now.unknown), None),
        "asks": now.asks,
        "go_on_at": address(page.count, replace(now, asks="")),
        "at_end": words.at_end(page),
        "broken_off": page.broken_off(at),
        "may_go_on": not is_open and may_log and (page.count.given_up or ended_lately),
        "scan_at": address(page.count, now),
        "mend_at": address(page.count, now, "mend_count"),
        "other_hands": address(page.count, Going(now.at)),
        "back": address(page.count, now),
        "mend": MendForm(who=request.user, shop=shop, now=at),
        "lines": words.lines(page, loans_ended(page.met_keys), at, frame["zone"]),
    }
    return render(request, "tooling/count.html", {**context, **strip(request, now, shop), **frame})
