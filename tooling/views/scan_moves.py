"""Moved by two scans: with a scanner that types, on one page; with a phone's camera, tag after tag."""

from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import timedelta
from typing import Any
from uuid import uuid4, uuid5

from django.contrib import messages
from django.core import signing
from django.core.signing import BadSignature
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from shared import clock
from shared.access import can_log
from tooling.forms.deeds.scan_moves import PairForm, ScanMoveForm
from tooling.models import Entry, Place, Shop, Tool
from tooling.selectors.count import last_seen
from tooling.selectors.moves import before_moving, loan_ended_by
from tooling.selectors.place_counts import met_where_known, open_count_of
from tooling.services import deeds, place_counts
from tooling.views import counts, opened
from tooling.views.being_moved import Read, read_before
from tooling.views.deeds.base import deed
from tooling.words.moves import handed_back_with_it, is_there

# Whoever scans two tags for one move stands between them no longer than this.
WITHIN = timedelta(minutes=3)
_PAIR, _WAITS = "tooling.pair", "waits"


@deed()
def move_by_scan(request):
    """One box: tools then their place, which are used up with it, or a place and then tool after tool."""
    if "pair" in request.GET:
        return _pair(request)
    read = read_before(request)
    tools, place = read.waiting()
    form = ScanMoveForm(**_asked(request, read), tools=tools, place=place)
    if form.is_valid():
        with form.told():
            return redirect(_gone_on(request, form, read).address())
    return render(request, "tooling/move_by_scan.html", {"form": form, **_known(request, read, tools, place)})


def _gone_on(request: HttpRequest, form: ScanMoveForm, read: Read) -> Read:
    """Tools and place are known: it is written. Else what was read waits."""
    said, now = form.said(), form.now.isoformat()
    tools, place = [one.code for one in form.tools], form.place.code if form.place is not None else ""
    after = Read(place=place if form.stays else "", at=now, dropped=read.left_behind({*tools, place}))
    if form.is_pair:
        after = replace(after, last=[one.pk for one in _put_all_there(request, form.tools, form.place, said)])
    else:
        after = replace(after, tools=tools, last=read.last)
    return replace(after, by=said["by"].pk, by_at=now) if form.who.is_station else after


def _put_all_there(request: HttpRequest, tools: Sequence[Tool], place: Place, said: dict[str, Any]) -> list[Entry]:
    """All of them or none. The first has the token of the form, so that twice is once."""
    first, *others = tools
    with transaction.atomic():
        written = [put_there(request, first, place, said)]
        for tool in others:
            own = {**said, "token": uuid5(said["token"], str(tool.pk))}
            written.append(put_there(request, tool, place, own))
    return written


def put_there(request: HttpRequest, tool: Tool, place: Place, said: dict[str, Any]) -> Entry:
    """Written as a move; where this person counts that place just now, as met in the count."""
    count = open_count_of(place, said["by"], clock.now())
    if count is not None:
        entry = place_counts.see(count, tool, place=place, **said)
        if entry.token != said["token"]:
            words = {"tool": tool.code, "place": place.name}
            messages.info(request, _("%(tool)s was met at %(place)s in this count already.") % words)
        return entry
    return deeds.move(tool, place=place, **said)


def _asked(request: HttpRequest, read: Read | None = None) -> dict[str, Any]:
    data = request.POST if request.method == "POST" else None
    person = read.hands() if data is not None and read is not None and request.user.is_station else None
    if data is not None and person is not None and "by" not in data:
        data = data.copy()
        data["by"] = str(person.pk)
    return {"data": data, "who": request.user, "shop": Shop.current(), "now": clock.now()}


def _known(request: HttpRequest, read: Read, tools: list[Tool], place: Place | None) -> dict[str, Any]:
    now, shop = clock.now(), Shop.current()
    last = (last_seen(key, request.user, now, shop) for key in read.last)
    written = [found for found in last if found is not None and found[1] is not None]
    context: dict[str, Any] = {
        "waits_tools": tools,
        "waits_place": place,
        "left_behind": read.left_behind(),
        "strips": [(one, there, is_there(one.entry.tool, there, loan_ended_by(one.entry))) for one, there in written],
        "back": read.address(),
        "anew": read.anew().address(),
    }
    if request.user.is_station:
        context |= {"counting": read.hands(), "other_hands": replace(read, by=None, by_at="").address()}
    return context


def lead_on(
    request: HttpRequest, address: str, *, tool: Tool | None = None, place: Place | None = None, **kept: Any
) -> HttpResponse:
    """A tag was opened with a camera: on to what moves the tool, where the other tag was opened just before.

    Else on to the address, and this tag waits for the other. A pair is used up, so neither is taken for the next.
    kept: what the tag leaves behind besides.
    """
    if not can_log(request.user) or request.user.is_station:
        return redirect(address)
    were_tools, was_place = Read(**opened.left(request, _WAITS) or {}).waiting(WITHIN)
    if open_count_of(place, request.user, clock.now()) is not None:
        were_tools = []  # whoever counts says with it where the next tools are
    of_tool, of_place = tool or next(iter(were_tools), None), place or was_place or _counted_place(request, tool)
    if of_tool is not None and of_place is not None:
        of = {"tool": of_tool.code, "place": of_place.code}
        pair = signing.dumps({**of, "who": request.user.pk, "token": str(uuid4())}, salt=_PAIR)
        reply = redirect(f"{reverse('move_by_scan')}?{urlencode({'pair': pair})}")
        return opened.leave(request, reply, **kept, **{_WAITS: {}})
    codes = [tool.code] if tool is not None else []
    waits = Read(codes, place=place.code if place is not None else "", at=clock.now().isoformat())
    return opened.leave(request, redirect(address), **kept, **{_WAITS: asdict(waits)})


def _counted_place(request: HttpRequest, tool: Tool | None) -> Place | None:
    """The place whose tag was opened last, where this person is counting it: there tag after tag is met.

    Else where the tool is known to lie, or has its home, where this person counts that.
    """
    place = counts.place_of(counts.kept(request))
    if open_count_of(place, request.user, clock.now()) is not None:
        return place
    return met_where_known(tool, request.user, clock.now()) if tool is not None else None


def _pair(request: HttpRequest) -> HttpResponse:
    """Both tags were opened: the page sends itself. To come back to it is harmless: the address has the token."""
    try:
        said = signing.loads(request.GET["pair"], salt=_PAIR, max_age=WITHIN)
    except BadSignature:
        said = {}
    tool = Tool.objects.called(said.get("tool", "")).first()
    place = Place.objects.called(said.get("place", "")).first()
    if tool is None or place is None or said["who"] != request.user.pk:
        messages.warning(request, _("That was too long ago, and nothing was written: scan both tags again."))
        return redirect("move_by_scan")
    form = PairForm(**_asked(request), tools=[tool], place=place, initial={"token": said["token"]})
    if form.is_valid():
        with form.told():
            entry = put_there(request, tool, place, form.said())
            loan = loan_ended_by(entry)
            if loan is not None:
                messages.info(request, handed_back_with_it(loan.payload.get("person", "")))
            return redirect("tool", code=tool.code)
    doubts = [] if form.is_bound else form.ask(before_moving(tool, place, request.user.units))
    counted = open_count_of(place, request.user, clock.now())
    context = {"form": form, "tool": tool, "place": place, "doubts": doubts, "counted": counted}
    return render(request, "tooling/move_pair.html", context)
