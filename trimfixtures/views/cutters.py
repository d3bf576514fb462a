"""Cutters and guide bushings: all of them, one of them, a new one, and what any hand says of one with one tap."""

from datetime import datetime
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied, ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from shared import clock
from shared.access import can_lead, can_log, can_read, needs
from shared.errors import Refused
from shared.keep_typed import keeps_typed, sent
from tooling.calc.due import local_date
from tooling.forms.catalogue import CatalogueForm
from tooling.models import Person, Shop
from tooling.views.catalogue import say_kept
from tooling.views.frame import framed
from tooling.views.pin import takes_pin
from trimfixtures.forms.cutters import CutterForm, HandForm, NewCutterForm
from trimfixtures.models import Cutter, CutterState
from trimfixtures.selectors import cutters as asked
from trimfixtures.services import cutters as services
from trimfixtures.views import cutter_before
from trimfixtures.words import cutters as words
from trimfixtures.words.cautions import changing

LEAD, BACK = "lead", "back"


@needs(can_read)
@never_cache
@require_safe
def cutters(request: HttpRequest) -> HttpResponse:
    """The whole library."""
    frame = framed()
    known = asked.cutters(frame["now"])
    rows = [_row(one, request.user, frame) for one in known]
    sections = [(title, [row for row in rows if row["one"].kind == kind]) for kind, title in words.SECTIONS]
    context = {
        "sections": [(title, those) for title, those in sections if those],
        "to_get": [one.cutter for one in known if one.cutter.state != CutterState.HERE],
        **_told(request),
    }
    return render(request, "trimfixtures/cutters.html", {**context, **_rights(request), **frame})


@keeps_typed
@needs(can_lead)
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def new_cutter(request: HttpRequest) -> HttpResponse:
    """One is written down."""
    form = NewCutterForm(Cutter(), sent(request), system=request.user.units)
    if request.method == "POST" and form.is_valid():
        try:
            made = services.add_cutter(by=request.user, at=clock.now(), **form.changes())
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            messages.success(request, _("Written down: %(code)s.") % {"code": made.code})
            return redirect("new_cutter" if request.POST.get("then") == "another" else "cutters")
    return render(request, "trimfixtures/cutter_new.html", {"form": form, **framed()})


@needs(can_read)
@takes_pin
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def cutter(request: HttpRequest, cutter_code: str) -> HttpResponse:
    """One of them. A hand says how it stands and what it measures; a lead changes all of it."""
    if request.method == "POST" and not can_log(request.user):
        raise PermissionDenied
    one = Cutter.objects.called(cutter_code).first()
    if one is None:
        raise Http404
    if request.method != "POST":
        return redirect("cutter", cutter_code=one.code) if one.code != cutter_code else _page(request, one)
    do = request.POST.get("do", "")
    if do == LEAD:
        return _changed(request, one)
    if do == BACK:
        return _put_back(request, one)
    return _said(request, one, do)


def _said(request: HttpRequest, one: Cutter, do: str) -> HttpResponse:
    """A hand's word: its state, a fresh one, or what it measures; what was measured is kept with either."""
    now = clock.now()
    form = HandForm(one, request.POST, who=request.user, now=now)
    if do not in (*CutterState.values, "fresh", "measure"):
        messages.warning(request, _("That button is none of this page."))
    elif form.is_valid():
        columns = {**_meant(do, now), **form.changes()}
        before = cutter_before.packed(one, columns.get("state", one.state))
        try:
            services.change_cutter(one, by=form.hands, at=now, **columns)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            if do == "measure":
                say_kept(request, form)
                return redirect("cutter", cutter_code=one.code)
            return redirect(_back(request, one) + "?" + urlencode({"done": do, "of": one.code, "was": before}))
    return _page(request, one, hand=form)


def _meant(do: str, at: datetime) -> dict[str, Any]:
    """The columns that a button stands for."""
    if do == "fresh":
        today = local_date(at, Shop.current().zone)
        return {"state": CutterState.HERE, "fresh_on": today, "measured_mm": None}
    return {"state": do} if do in CutterState.values else {}


def _put_back(request: HttpRequest, one: Cutter) -> HttpResponse:
    """One's own slip of the last minutes: as it stood before."""
    columns = cutter_before.columns_of(request.POST.get("was", ""), one)
    form = HandForm(one, request.POST, who=request.user, now=clock.now())
    if not form.is_valid():
        return _page(request, one, hand=form)
    if columns is None:
        messages.warning(request, _("Too late to take that back here: say how it stands now."))
        return redirect("cutter", cutter_code=one.code)
    try:
        services.change_cutter(one, by=form.hands, at=clock.now(), **columns)
    except (Refused, ValidationError) as refused:
        form.told(refused)
        return _page(request, one, hand=form)
    messages.success(request, _("Rubbed out: %(code)s stands as before.") % {"code": one.code})
    return redirect(_back(request, one))


def _changed(request: HttpRequest, one: Cutter) -> HttpResponse:
    """A lead changes what stands of it."""
    if not can_lead(request.user):
        raise PermissionDenied
    form = CutterForm(one, request.POST, system=request.user.units)
    if form.is_valid():
        columns = form.changes()
        try:
            if columns:
                services.change_cutter(one, by=request.user, at=clock.now(), read=one, **columns)
        except (Refused, ValidationError) as refused:
            form.told(refused)
        else:
            say_kept(request, form)
            return redirect("cutter", cutter_code=one.code)
    return _page(request, Cutter.objects.get(pk=one.pk), lead=form)


def _page(
    request: HttpRequest, one: Cutter, *, hand: HandForm | None = None, lead: CatalogueForm | None = None
) -> HttpResponse:
    frame = framed()
    known = asked.cutter(one.code, frame["now"])
    if known is None:
        raise Http404
    who: Person = request.user
    may_log = can_log(who)
    kept = asked.changes(one)
    context = {
        **_row(known, who, frame),
        "beside": words.BESIDE.get(CutterState(one.state), ()),
        "hand": hand or (HandForm(one, who=who, now=frame["now"]) if may_log else None),
        "lead": lead or (CutterForm(one, system=who.units) if can_lead(who) else None),
        "lead_open": lead is not None,
        "takers": [
            (tool, tool in known.takers, words.far(use.metres, who.units) if use.metres else "", use.parts)
            for tool, use in asked.by_trim_mask(known)
        ],
        "changes": [words.changed(change, who.units) for change in kept[: asked.CHANGES]],
        "more_changes": len(kept) > asked.CHANGES,
        **_told(request),
    }
    return render(request, "trimfixtures/cutter.html", {**context, **_rights(request), **frame})


def _row(known: asked.Known, who: Person, frame: dict[str, Any]) -> dict[str, Any]:
    """One in words, with the buttons that make sense."""
    one, today = known.cutter, local_date(frame["now"], frame["zone"])
    return {
        "one": one,
        "known": known,
        "sizes": words.sizes(one, known.wear, who.units),
        "so_far": words.cut_so_far(known.metres, known.parts, one.fresh_on, who.units, today),
        "look_after": words.far(one.look_after_m, who.units) if one.look_after_m is not None else "",
        "next": words.NEXT[CutterState(one.state)],
    }


def _told(request: HttpRequest) -> dict[str, Any]:
    """What was just said of one, and the way back."""
    one = Cutter.objects.called(request.GET.get("of", "")).first() if "was" in request.GET else None
    if one is None or cutter_before.columns_of(request.GET["was"], one) is None:
        return {}
    return {"said": words.now_said(one, request.GET.get("done", "")), "said_of": one, "was": request.GET["was"]}


def _back(request: HttpRequest, one: Cutter) -> str:
    return reverse("cutters") if request.POST.get("then") == "list" else reverse("cutter", args=[one.code])


def _rights(request: HttpRequest) -> dict[str, Any]:
    return {"may_log": can_log(request.user), "may_lead": can_lead(request.user), "caution": changing()}
