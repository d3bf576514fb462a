"""What is wanted: the list of all, a part comes on it, is changed, taken off, and put back at once."""

from datetime import datetime
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from shared import clock
from shared.access import can_log, can_read, can_want, needs
from shared.errors import Refused
from shared.going_back import local
from shared.keep_typed import keeps_typed, sent
from shared.snapshot import one_moment
from tooling.forms.wanted import ChangeWantedForm, WantForm
from tooling.models import Shop, Wanted
from tooling.selectors.wanted import done_before, just_off, not_put_away, off_lately
from tooling.selectors.wanted_now import wanted_now
from tooling.services import wanted as services
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.views.frame import framed


@keeps_typed
@needs(can_read)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def wanted(request: HttpRequest) -> HttpResponse:
    """All that is wanted, and what is done or taken off lately. `back`: the page on which a part was chosen."""
    may_want = can_want(request.user)
    if request.method == "POST" and not may_want:
        raise PermissionDenied
    form, data = None, sent(request)
    if may_want:
        form = WantForm(data)
        if request.method == "POST" and form.is_valid():
            try:
                services.want(form.cleaned_data["part"], by=request.user, at=clock.now(), **form.facts())
                return _back(request)
            except Refused as refused:
                form.told(refused)
    with one_moment() as at:
        zone, listed = Shop.current().zone, not_put_away()
        shown = wanted_now(at, zone, units=request.user.units, of=listed)
        off, done = off_lately(at), done_before(at, zone, of=listed)
    back = local(data.get("back", "")) if data else ""
    context = {"form": form, "shown": shown, "off": off, "done": done, "back": back, **_rights(request)}
    return render(request, "tooling/wanted.html", {**context, **framed()})


@keeps_typed
@needs(can_want)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def change_wanted(request: HttpRequest, number: int) -> HttpResponse:
    """How many, of which revision, for which day."""
    row = get_object_or_404(Wanted.objects.select_related("part", "revision", "by"), pk=number)
    form = ChangeWantedForm(row, sent(request), seen=services.said(row))
    if request.method == "POST" and form.is_valid():
        try:
            services.change(row, by=request.user, at=clock.now(), **form.facts())
            return redirect("wanted")
        except (Refused, ValidationError) as refused:
            form.told(refused) if isinstance(refused, Refused) else form.add_error(None, refused)
            form.data = form.data.copy()
            row.refresh_from_db()
            form.data["seen"] = services.said(row)
    return render(request, "tooling/wanted_change.html", {"form": form, "row": row, **framed()})


@needs(can_want)
@require_POST
def take_off_wanted(request: HttpRequest, number: int) -> HttpResponse:
    """Wanted no more."""
    row = get_object_or_404(Wanted.objects.select_related("part"), pk=number)
    row = services.take_off(row, by=request.user, at=clock.now())
    if row.off_by != request.user:  # one's own has the way back beside it
        messages.success(request, _("%(part)s is off the list.") % {"part": row.part.number})
    return _back(request)


@needs(can_want)
@require_POST
def rub_out_wanted(request: HttpRequest, number: int) -> HttpResponse:
    """One's own taking off of the last five minutes was a slip."""
    row = get_object_or_404(Wanted.objects.select_related("part"), pk=number)
    try:
        services.rub_out(row, by=request.user, at=clock.now())
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, _("Rubbed out: %(part)s is wanted as before.") % {"part": row.part.number})
    return _back(request)


def beside_board(user: Any, at: datetime) -> dict[str, Any]:
    """What a lead does to the list beside the board: the line that adds to it, and what was just taken off."""
    if not can_want(user):
        return {}
    return {"want_form": WantForm(short=True), "just_off": just_off(user, at, RUB_OUT_WITHIN)}


def _rights(request: HttpRequest) -> dict[str, Any]:
    return {"may_want": can_want(request.user), "may_log": can_log(request.user)}


def _back(request: HttpRequest) -> HttpResponse:
    """To the page of ours that asked."""
    return redirect(local(request.POST.get("back", "")) or "wanted")
