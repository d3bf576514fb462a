"""The pictures of one entry: looked at, marked, and more of them added."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from shared import clock
from shared.access import can_log, can_read, needs
from shared.errors import Refused
from shared.going_back import local
from tooling.forms.deeds.pictures import MarkForm, MorePictures
from tooling.models import Entry, Person, Picture, Shop, Tool
from tooling.selectors.just_written import tell
from tooling.selectors.pictures import of_entries
from tooling.services import entry_pictures as services
from tooling.services.deeds.alongside import in_place_of
from tooling.services.deeds.undo import may_rub_out
from tooling.views.deeds.given import take_pictures
from tooling.views.frame import framed
from tooling.views.pin import takes_pin


@dataclass(frozen=True, slots=True)
class Marked:
    """A picture, and the form that marks it; None for somebody who may not."""

    picture: Picture
    form: MarkForm | None


@needs(can_read)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def entry_pictures(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What an entry says, with its pictures; hands add more, and whoever took one marks it."""
    if request.method == "POST" and not can_log(request.user):
        raise PermissionDenied
    asked = _entry(code, number)
    entry = in_place_of(asked)
    if request.method != "POST":
        if entry != asked:
            return redirect("entry_pictures", code=entry.tool.code, number=entry.number)
        return _page(request, entry, more_pictures(request.user, entry))
    form = more_pictures(request.user, entry, request)
    if not form.is_valid():
        return _page(request, entry, form)
    by = form.cleaned_data.get("by") or (entry.by if request.user.is_station else request.user)
    take_pictures(request, entry, form.cleaned_data["files"], by=by)
    return redirect(_back(request, entry))


@needs(can_log)
@require_POST
def mark_picture(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Where it is: a tap on the picture, one of nine fields, or no mark any more."""
    picture = get_object_or_404(Picture.objects.select_related("tool", "entry__tool", "added_by"), pk=number)
    if picture.entry is None or picture.tool != Tool.objects.called(code).first():
        raise Http404
    form = MarkForm(request.POST, picture=picture)
    if not form.is_valid():
        messages.error(request, next(iter(form.errors.values()))[0])
    else:
        try:
            services.mark(picture, form.cleaned_data["place"], by=request.user, at=clock.now())
        except Refused as refused:
            messages.error(request, refused.message)
    return redirect(f"{_back(request, picture.entry)}#p{picture.pk}")


def more_pictures(person: Person, entry: Entry, request: HttpRequest | None = None) -> MorePictures | None:
    """The form for more pictures of an entry; None for somebody who may not. What one has just written is by the same
    hands."""
    if not can_log(person):
        return None
    sent = (request.POST, request.FILES) if request is not None else ()
    return MorePictures(*sent, who=person, asks=person.is_station and not may_rub_out(entry, person))


def marked(entry: Entry, person: Person) -> list[Marked]:
    """The pictures of an entry, each with its form where this person may mark it."""
    return [
        Marked(one, MarkForm(picture=one) if can_log(person) and services.may_mark(one, person) else None)
        for one in of_entries([entry.pk]).get(entry.pk, [])
    ]


def _entry(code: str, number: int) -> Entry:
    tool = Tool.objects.called(code).first()
    return get_object_or_404(Entry.objects.select_related("tool", "by", "recorded_by"), tool=tool, number=number)


def _page(request: HttpRequest, entry: Entry, form: MorePictures | None) -> HttpResponse:
    given: dict[str, Any] = {
        "entry": entry,
        "tool": entry.tool,
        "told": tell(entry, clock.now(), Shop.current(), request.user.units),
        "pictures": marked(entry, request.user),
        "form": form,
        "void": Entry.objects.filter(voids=entry).exists(),
    }
    return render(request, "tooling/entry_pictures.html", {**given, **framed()})


def _back(request: HttpRequest, entry: Entry) -> str:
    return local(request.POST.get("back", "")) or reverse("entry_pictures", args=[entry.tool.code, entry.number])
