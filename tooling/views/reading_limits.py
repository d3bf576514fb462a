"""The shop's own limits of readings: all of them, and one that a lead sets, changes or takes out."""

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from shared.access import can_lead, can_read, needs
from shared.clock import now
from shared.errors import Refused
from shared.keep_typed import keeps_typed, typed_before
from tooling.forms.reading_limits import LimitForm
from tooling.models import ReadingLimit, Tool
from tooling.selectors.reading_limits import limits
from tooling.services import reading_limits as services
from tooling.views.frame import framed
from tooling.words.limit_said import LimitSaid, held_said, limit_said
from tooling.words.readings import OFFERED_UNITS
from tooling.words.terms import QUANTITIES
from tooling.words.trends import NO_LIMIT_BUILT_IN


@keeps_typed
@needs(can_read)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def reading_limits(request: HttpRequest) -> HttpResponse:
    """All limits. A lead sets one (`?change=` names it), takes one out, and puts it back."""
    if request.method != "POST":
        before = typed_before(request)
        row = _row(request.GET.get("change", ""))
        return _page(request, LimitForm(row, before, initial=None if before else _asked(request)))
    if not can_lead(request.user):
        raise PermissionDenied
    do = request.POST.get("do", "")
    if do.startswith("out."):
        return _taken_out(request, do.removeprefix("out."))
    if do.startswith("back."):
        return _put_back(request, do.removeprefix("back."))
    return _kept(request)


def _kept(request: HttpRequest) -> HttpResponse:
    named = request.POST.get("row", "")
    row = _row(named)
    form = LimitForm(row, request.POST)
    if named and row is None:
        form.add_error(
            None, _("Somebody changed this limit or took it out meanwhile. Set it anew if it is still wanted.")
        )
    if form.is_valid():
        try:
            services.set_limit(**form.facts(), by=request.user, at=now())
        except Refused as refused:
            form.told(refused)
        else:
            messages.success(request, _("Kept. From now on it holds for the readings that there are as well."))
            return redirect("reading_limits")
    return _page(request, form)


def _taken_out(request: HttpRequest, name: str) -> HttpResponse:
    row = _row(name)
    if row is None:
        messages.info(request, _("That limit is out already."))
        return redirect("reading_limits")
    services.take_out(row, by=request.user, at=now())
    return redirect(f"{reverse('reading_limits')}?{urlencode({'gone': row.pk})}")


def _put_back(request: HttpRequest, name: str) -> HttpResponse:
    row = _row(name, out=True)
    if row is None:
        messages.warning(request, _("That cannot be put back any more: set it anew."))
        return redirect("reading_limits")
    try:
        services.put_back(row, by=request.user, at=now())
    except Refused as refused:
        messages.warning(request, refused.message)
    return redirect("reading_limits")


def _row(name: str, *, out: bool = False) -> ReadingLimit | None:
    """The one of that key that holds; out: that was taken out."""
    if not (name.isascii() and name.isdigit() and len(name) < 10):
        return None
    return ReadingLimit.objects.select_related("tool").filter(pk=name, until__isnull=not out).first()


def _asked(request: HttpRequest) -> dict[str, Any]:
    """What the page of a tool's readings hands over."""
    names = ("quantity", "unit", "geometry", "kind")
    asked = {name: request.GET[name].replace("\x00", "")[:80] for name in names if request.GET.get(name)}
    tool = Tool.objects.called(request.GET.get("of", "").replace("\x00", "")[:16]).first()
    return {**asked, "kind": tool.kind} if tool is not None else asked


def _page(request: HttpRequest, form: LimitForm) -> HttpResponse:
    every, gone = limits(), request.GET.get("gone", "") if request.method == "GET" else ""
    frame = framed()
    past = [one for one in every if one.until is not None]
    lead = can_lead(request.user)
    context = {
        "rows": [_shown(one, frame) for one in every if one.until is None],
        "past": [_shown(one, frame) for one in sorted(past, key=lambda one: one.until, reverse=True)],
        "form": form if lead else None,
        "gone": gone if any(str(one.pk) == gone for one in past) else "",
        "may_lead": lead,
        "no_limit": NO_LIMIT_BUILT_IN,
        "quantities": list(QUANTITIES.values()),
        "units": [*OFFERED_UNITS, "mm", "in"],
    }
    return render(request, "tooling/reading_limits.html", {**context, **frame})


def _shown(row: ReadingLimit, frame: dict[str, Any]) -> tuple[ReadingLimit, LimitSaid, str]:
    return row, limit_said(row), held_said(row, frame["now"], frame["zone"])
