"""Stopping a tool, and telling the lead of it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.forms.deeds.standing import HoldForm, TellForm
from tooling.models import Entry
from tooling.selectors.floor import holds_said
from tooling.selectors.just_written import tell
from tooling.selectors.looking import beside
from tooling.services import deeds
from tooling.services.lead_notes import lead_saw as saw
from tooling.views.deeds.base import asked, deed, entry_of, on_the_floor, page, strip_for, to_tool
from tooling.views.deeds.given import take_pictures, with_pictures
from tooling.views.entry_pictures import marked, more_pictures


@deed()
def hold(request, code):
    """Stop: do not use. Once it is held, the same page says to tape a cross on it, and takes and marks pictures."""
    on = on_the_floor(code)
    form = HoldForm(**asked(request, on), kind=on.tool.kind, initial=_of_told(request, on))
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.hold, on.tool, reason=form.reason)
            take_pictures(request, entry, form.cleaned_data["pictures"], by=entry.by)
            _seen_by_stopping(request, on, form.cleaned_data["of_told"])
            return redirect("hold", code=on.tool.code)
    return page(request, "hold", on, form, holds=holds_said(on).get(on.tool.pk, []), **_just_stopped(request, on))


def _told(on, number):
    """The note of that number that was told to the lead; None where there is none."""
    return Entry.objects.filter(tool=on.tool, number=number, payload__for_lead=True).first() if number else None


def _of_told(request, on):
    """The words of what was told to the lead, where the stop comes of it."""
    number = request.GET.get("told", "")
    told = _told(on, int(number)) if number.isascii() and number.isdigit() and len(number) < 9 else None
    return {"of_told": told.number, "words": told.payload.get("note", "")} if told is not None else None


def _seen_by_stopping(request, on, number):
    told = _told(on, number) if can_lead(request.user) else None
    if told is not None:
        saw(told, by=request.user, at=on.at)


@deed()
def tell_lead(request, code):
    """Something the lead should know; it holds nothing."""
    on = on_the_floor(code)
    form = TellForm(**asked(request, on))
    form.initial["note"] = _wrong_of(request, on)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.tell_lead, on.tool)
            return with_pictures(request, entry, form, to_tool(on))
    return page(request, "tell_lead", on, form)


def _wrong_of(request, on):
    """The entry of the tool's history that somebody says is wrong, named for the lead; "" where none is said."""
    number = request.GET.get("of", "")
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        return ""
    entry = Entry.objects.filter(tool=on.tool, number=number).select_related("tool", "by").first()
    if entry is None:
        return ""
    said = {"number": entry.number, "entry": tell(entry, on.at, on.shop).head}
    return _("Entry %(number)d is wrong: %(entry)s. It should be: ") % {**said, "entry": said["entry"].rstrip(".")}


@deed(can_lead)
def lead_saw(request, code, number):
    """A lead has seen what was told. The way back in from signing in writes nothing."""
    on = on_the_floor(code)
    entry = entry_of(on, number)
    if not entry.payload.get("for_lead"):
        raise Http404
    if request.method == "POST" and saw(entry, by=request.user, at=on.at):
        messages.success(request, _("Seen: what was told of %(code)s stays in its history.") % {"code": on.tool.code})
    return redirect("board")


def _just_stopped(request, on):
    """What was just written, and where that was a stop, its pictures."""
    strip = strip_for(request, on.tool, on.shop)
    stop = strip["written"].entry if strip["written"] is not None else None
    if stop is None or stop.kind != "hold":
        return strip
    given = {"marked": marked(stop, request.user), "more": more_pictures(request.user, stop)}
    return {**strip, **given, "stop": stop, "beside": beside(on, request.user)}
