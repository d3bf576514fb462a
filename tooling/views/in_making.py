"""All tools in the making, each with its line of steps; and the steps of each kind, which a lead keeps."""

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, typed_before
from shared.snapshot import one_moment
from tooling.forms.making_steps import Row, StepsForm
from tooling.models import Kind, Shop
from tooling.selectors.in_making import at_steps, in_making
from tooling.selectors.making_panel import known_of
from tooling.services.making_rules import may_be_logged_as
from tooling.services.making_steps import STARTERS, Step, add_starter, is_starter, set_steps, steps_of
from tooling.views import steps_before
from tooling.views.frame import framed
from tooling.words.in_making import LOGGED_AS, since
from tooling.words.lines import Around, about
from tooling.words.terms import KINDS, term


@needs(can_read)
@require_safe
def all_in_making(request: HttpRequest) -> HttpResponse:
    """Every tool in the making: its steps drawn, since when, what is next, what waits, pictures by step."""
    with one_moment() as at:
        shop = Shop.current()
        found = in_making(at)
    around, may_log = Around(at, shop.zone), can_log(request.user)
    shown = [
        {
            "one": one,
            "since": since(one.since, around),
            "about": about(one),
            "making": known_of(one, around, may_log=may_log),
        }
        for one in found
    ]
    context = {"shown": shown, "may_log": may_log, "may_lead": can_lead(request.user)}
    return render(request, "tooling/in_making.html", {**context, "shop": shop, "zone": shop.zone, "now": at})


@keeps_typed
@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def making_steps(request: HttpRequest) -> HttpResponse:
    """The steps of a kind (`?kind=`): one form; a button says what is done with the list as it is typed."""
    kind = request.GET.get("kind", "")
    kind = kind if kind in Kind.values else Kind.PLUG.value
    stands = steps_of(kind)
    if request.method != "POST":
        if (before := typed_before(request)) is not None and (typed := StepsForm(before)).typed:
            messages.warning(request, _("Not written yet: this was typed before signing in."))
            return _page(request, kind, stands, [Row(one) for one in typed.steps()], before.get("read", ""))
        return _page(request, kind, stands, [Row(one) for one in stands])
    form = StepsForm(request.POST)
    try:
        return _done(kind, stands, form, request)
    except Refused as refused:
        rows = form.refused(refused)
        if not form.is_marked:
            messages.warning(request, refused.message)
        return _page(request, kind, stands, rows, form.read if form.is_marked else "")


def _done(kind: str, stands: list[Step], form: StepsForm, request: HttpRequest) -> HttpResponse:
    """Does what the button says. A list that was changed can be put back for five minutes."""
    if form.name == "starter":
        add_starter(kind)
        messages.success(request, _("Begun. They are common practice without a source: make them the shop’s own."))
        return redirect(_at(kind))
    if form.name == "put_back":
        before = steps_before.steps_of(request.POST.get("was", ""), kind, stands)
        if before is None:
            raise Refused(_("It was changed since, or five minutes are over: change it here."))
        set_steps(kind, before, read=stands)
        return redirect(_at(kind))
    kept = set_steps(kind, form.steps(), read=steps_before.as_read(form.read, kind) or [])
    return redirect(_at(kind, stands, kept))


def _at(kind: str, before: list[Step] | None = None, kept: list[Step] | None = None) -> str:
    said = {"kind": kind}
    if before is not None and kept is not None and before != kept:
        said["was"] = steps_before.packed(kind, before, kept)
    return f"{reverse('making_steps')}?{urlencode(said)}"


def _page(request: HttpRequest, kind: str, stands: list[Step], rows: list[Row], read: str = "") -> HttpResponse:
    """`read`: the list that the rows were typed over; where somebody was told of a newer one, it is that."""
    was = request.GET.get("was", "") if request.method == "GET" else ""
    context: dict[str, Any] = {
        "kind": kind,
        "kinds": [(value, term(KINDS, value), value == kind) for value in Kind.values],
        "rows": rows,
        "there": at_steps(kind),
        "common": is_starter(kind, stands),
        "starter": [] if stands or any(row.step.name for row in rows) else STARTERS[kind],
        "logged_as": [(one, LOGGED_AS[one]) for one in may_be_logged_as(kind)],
        "read": read or steps_before.packed(kind, stands, []),
        "was": was if steps_before.steps_of(was, kind, stands) is not None else "",
    }
    return render(request, "tooling/making_steps.html", {**context, **framed()})
