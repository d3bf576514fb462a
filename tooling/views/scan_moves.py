"""Moved by two scans: with a scanner that types, on one page; with a phone's camera, tag after tag."""

from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.core import signing
from django.core.signing import BadSignature
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from shared import clock
from shared.access import can_log
from tooling.forms.deeds.scan_moves import PairForm, ScanMoveForm
from tooling.models import Entry, Person, Place, Shop, Tool
from tooling.selectors.hands import hands
from tooling.selectors.just_written import JustWritten, just_written
from tooling.selectors.moves import before_moving, loan_ended_by
from tooling.selectors.place_counts import met_where_known, open_count_of
from tooling.services import deeds, place_counts
from tooling.views import counts, opened
from tooling.views.counts import HANDS_STAY
from tooling.views.deeds.base import deed
from tooling.words.moves import handed_back_with_it, is_there

# Whoever scans two tags for one move stands between them no longer than this.
WITHIN = timedelta(minutes=3)
_READ, _PAIR, _WAITS = "tooling.read", "tooling.pair", "waits"


@dataclass(frozen=True, slots=True)
class Read:
    """What the page knows: the code that waits for the other, since when; its last entry; at a station the hands.

    dropped: the tool that waited for a place when another tool was read.
    """

    tool: str = ""
    place: str = ""
    at: str = ""
    dropped: str = ""
    last: int | None = None
    by: int | None = None
    by_at: str = ""

    def waiting(self) -> tuple[Tool | None, Place | None]:
        """The tool or the place that was read a moment ago."""
        if not self.at or clock.now() - datetime.fromisoformat(self.at) > WITHIN:
            return None, None
        tool = Tool.objects.called(self.tool).first() if self.tool else None
        return tool, Place.objects.called(self.place).first() if self.place else None

    def hands(self) -> Person | None:
        """Whose hands they are at a station, while that still holds."""
        if self.by is None or clock.now() - datetime.fromisoformat(self.by_at) > HANDS_STAY:
            return None
        return hands().filter(pk=self.by).first()

    def address(self) -> str:
        """The page with what is known."""
        return f"{reverse('move_by_scan')}?{urlencode({'read': signing.dumps(asdict(self), salt=_READ)})}"


@deed()
def move_by_scan(request):
    """One box: a tool then its place, or a place then the tool. Each pair is used up once it is written."""
    if "pair" in request.GET:
        return _pair(request)
    read = _read(request)
    tool, place = read.waiting()
    form = ScanMoveForm(**_asked(request, read), tool=tool, place=place)
    if form.is_valid():
        with form.told():
            return redirect(_gone_on(request, form, read, (tool, place)).address())
    return render(request, "tooling/move_by_scan.html", {"form": form, **_known(request, read, tool, place)})


def _gone_on(request: HttpRequest, form: ScanMoveForm, read: Read, waited: tuple[Tool | None, Place | None]) -> Read:
    """Both are known: it is written, and a place that was read first stays. One is: it waits for the other."""
    said, now = form.said(), form.now.isoformat()
    who = {"by": said["by"].pk, "by_at": now} if form.who.is_station else {}
    if form.tool is not None and form.place is not None:
        last, stays = put_there(request, form.tool, form.place, said).pk, waited[1]
        return Read(place=stays.code, at=now, last=last, **who) if stays is not None else Read(last=last, **who)
    codes = {"tool": form.tool.code if form.tool else "", "place": form.place.code if form.place else ""}
    dropped = waited[0].code if waited[0] is not None and waited[0] != form.tool else ""
    return Read(**codes, at=now, dropped=dropped, last=read.last, **who)


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


def _read(request: HttpRequest) -> Read:
    try:
        return Read(**signing.loads(request.GET.get("read", ""), salt=_READ, max_age=HANDS_STAY))
    except BadSignature:
        return Read()


def _asked(request: HttpRequest, read: Read | None = None) -> dict[str, Any]:
    data = request.POST if request.method == "POST" else None
    person = read.hands() if data is not None and read is not None and request.user.is_station else None
    if data is not None and person is not None and "by" not in data:
        data = data.copy()
        data["by"] = str(person.pk)
    return {"data": data, "who": request.user, "shop": Shop.current(), "now": clock.now()}


def _known(request: HttpRequest, read: Read, tool: Tool | None, place: Place | None) -> dict[str, Any]:
    context: dict[str, Any] = {
        "waits_tool": tool,
        "waits_place": place,
        "dropped": read.dropped if tool is not None else "",
        "anew": Read(by=read.by, by_at=read.by_at).address(),
        "back": replace(read, last=None).address(),
    }
    if request.user.is_station:
        others = replace(read, last=None, by=None, by_at="").address()
        context |= {"counting": read.hands(), "other_hands": others}
    found = _last(read.last, request.user) if read.last is not None else None
    if found is not None:
        written, there = found
        words = is_there(written.entry.tool, there, loan_ended_by(written.entry))
        context |= {"written": written, "seen_words": words, "there": there}
    return context


def _last(key: int, person: Person) -> tuple[JustWritten, Place] | None:
    """What was moved last and where to, while the person can rub it out."""
    entry = Entry.objects.filter(pk=key, kind="moved").select_related("tool__summary__home").first()
    written = just_written(entry.tool, person, clock.now(), Shop.current()) if entry is not None else None
    if entry is None or written is None or written.entry.pk != key:
        return None
    place = Place.objects.filter(pk=entry.payload.get("place")).first()
    return (written, place) if place is not None else None


def lead_on(
    request: HttpRequest, address: str, *, tool: Tool | None = None, place: Place | None = None, **kept: Any
) -> HttpResponse:
    """A tag was opened with a camera: on to what moves the tool, where the other tag was opened just before.

    Else on to the address, and this tag waits for the other. A pair is used up, so neither is taken for the next.
    kept: what the tag leaves behind besides.
    """
    if not can_log(request.user) or request.user.is_station:
        return redirect(address)
    was_tool, was_place = Read(**opened.left(request, _WAITS) or {}).waiting()
    if open_count_of(place, request.user, clock.now()) is not None:
        was_tool = None  # whoever counts says with it where the next tools are
    of_tool, of_place = tool or was_tool, place or was_place or _counted_place(request, tool)
    if of_tool is not None and of_place is not None:
        of = {"tool": of_tool.code, "place": of_place.code}
        pair = signing.dumps({**of, "who": request.user.pk, "token": str(uuid4())}, salt=_PAIR)
        reply = redirect(f"{reverse('move_by_scan')}?{urlencode({'pair': pair})}")
        return opened.leave(request, reply, **kept, **{_WAITS: {}})
    waits = Read(tool=tool.code if tool else "", place=place.code if place else "", at=clock.now().isoformat())
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
    form = PairForm(**_asked(request), tool=tool, place=place, initial={"token": said["token"]})
    if form.is_valid():
        with form.told():
            entry = put_there(request, tool, place, form.said())
            loan = loan_ended_by(entry)
            if loan is not None:
                messages.info(request, handed_back_with_it(loan.payload.get("person", "")))
            return redirect("tool", code=tool.code)
    doubts = [] if form.is_bound else before_moving(tool, place, request.user.units)
    counted = open_count_of(place, request.user, clock.now())
    context = {"form": form, "tool": tool, "place": place, "doubts": doubts, "counted": counted}
    return render(request, "tooling/move_pair.html", context)
