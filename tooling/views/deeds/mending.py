"""Work that mends a surface: one page for what was done, the defects that it closed and what was measured after it."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from tooling.forms.deeds.mending import MendForm
from tooling.models import Entry, Kind
from tooling.selectors.defects import defects_of
from tooling.selectors.floor import Floor, recent_words
from tooling.selectors.measured_before import measured_before
from tooling.selectors.service_limit import service_limit
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import take_pictures

_KINDS = ("repair", "polish", "resurfaced")


def _mend(request: HttpRequest, code: str, kind: str) -> HttpResponse:
    on = on_the_floor(code, Kind.WITH_SURFACE)
    about: dict[str, Any] = {"defects": defects_of(on.tool, on.at), "mended": _asked_for(request)}
    form = MendForm(**asked(request, on), kind=kind, before=measured_before(on.tool, on.at, request.user.pk), **about)
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.mend, on.tool, **form.facts())
            _say(request, on, form, entry)
            return _with_pictures(request, form, entry) or to_tool(on)
    return page(request, kind, on, form, **_offered(on), limit=service_limit(on.tool, on.at, request.user.units))


def _asked_for(request: HttpRequest) -> list[int]:
    """The defects that somebody came from, by their numbers."""
    texts = request.GET.getlist("defect")
    return [int(one) for one in texts if one.isascii() and one.isdigit() and len(one) < 7]


def _offered(on: Floor) -> dict[str, list[str]]:
    return {f"{name}s": recent_words(on.tool, name, *_KINDS) for name in ("material", "lot")}


def _say(request: HttpRequest, on: Floor, form: MendForm, entry: Entry) -> None:
    """What follows besides: defects that are closed, how hot it may get from now on, an instrument past its day."""
    for line in form.lines():
        messages.success(request, _("Defect %(number)d is mended.") % {"number": line.number})
    limit = service_limit(on.tool, entry.at, request.user.units) if entry.payload.get("value") else None
    if limit is not None:
        said = {"limit": limit.said, "source": limit.source}
        lowers = limit.repair is not None and limit.repair.pk == entry.pk
        text = _("From now on the tool may get %(limit)s at most: %(source)s.")
        stays = _("The tool may still get %(limit)s at most: %(source)s.")
        messages.info(request, (text if lowers else stays) % said)
    if form.measured.flagged:
        messages.warning(request, form.measured.flagged)


def _with_pictures(request: HttpRequest, form: MendForm, entry: Entry) -> HttpResponse | None:
    """Takes in the pictures of before and after, of the defect that they show, and goes on to where they are marked."""
    given = {_("before"): form.cleaned_data["before"], _("after"): form.cleaned_data["pictures"]}
    for caption, files in given.items():
        if files:
            take_pictures(request, entry, files, by=entry.by, defect=form.pictured, caption=caption)
    return redirect("entry_pictures", code=entry.tool.code, number=entry.number) if any(given.values()) else None


@deed()
def repair(request, code):
    """The surface is mended, with what stands how much."""
    return _mend(request, code, "repair")


@deed()
def polish(request, code):
    """The surface is cut and polished."""
    return _mend(request, code, "polish")


@deed()
def resurfaced(request, code):
    """The surface is new."""
    return _mend(request, code, "resurfaced")
