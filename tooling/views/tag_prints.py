"""Printing tags: how they will look, the file that came of it, and that it did not come out."""

import json
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shared import clock
from shared.access import can_lead, can_print, can_read, needs
from shared.errors import Refused
from shared.paper import document
from tooling.forms.tag_choice import TagChoice
from tooling.forms.tags import TagForm
from tooling.models import TagRun
from tooling.selectors.tag_prints import of_print
from tooling.services.jobs.files import KEPT_DAYS
from tooling.services.tags import run as service
from tooling.services.tags.printed import put_back as put_back_service
from tooling.views.frame import framed
from tooling.views.tag_previews import FIRST, preview, with_looks
from tooling.words.tag_prints import put_back_said
from tooling.words.tag_site import NUMBER, OWN, Site, against, site

# What was chosen last on this machine: the printer stands beside it, whoever prints.
_COOKIE, _YEAR = "tags", 365 * 24 * 60 * 60
_SHEET = ("stock", "wide", "high")  # where one differs, it is another sheet


@needs(can_read)
@with_looks
@require_http_methods(["GET", "HEAD", "POST"])
def print_tags(request: HttpRequest) -> HttpResponse:
    """The tags that the address names, as they will look; posted, they are printed. A reader looks.

    `as_before`: one tap elsewhere prints on what was chosen last on this machine.
    """
    if request.method == "POST" and not can_print(request.user):
        raise PermissionDenied
    frame = framed()
    choice, where = TagChoice(request.GET, frame["now"]), site(settings.SITE_URL, frame["shop"].tag_address)
    kept = _remembered(request)
    sent = TagForm.as_before(kept) if request.POST.get("as_before") else request.POST
    form = TagForm(sent if request.method == "POST" else None, system=request.user.units, remembered=kept)
    if request.method == "POST" and form.is_valid():
        if request.POST.get("do") != "print":
            return _remember(redirect(request.get_full_path()), form, 0, before=_remembered(request))
        _check(form, choice, where)
        if not form.errors:
            try:
                return _print(request, form, choice)
            except Refused as refused:
                form.add_error(None, refused.message)
    return render(request, "tooling/tags/print.html", {**_context(request, form, choice, where), **frame})


def _check(form: TagForm, choice: TagChoice, where: Site) -> None:
    """What stands against printing at all."""
    if where.kind == OWN and not form.cleaned_data["sure"]:
        tick = _("Tick it, if they are to be printed all the same.")
        form.add_error("sure", f"{against(where)} {tick}")
    if where.kind == NUMBER:
        form.add_error(None, against(where))
    if words := document.lacking():
        form.add_error(None, words)
    if not choice.count:
        form.add_error(None, _("Nothing is chosen that could be printed."))


def _print(request: HttpRequest, form: TagForm, choice: TagChoice) -> HttpResponse:
    data, stock = form.cleaned_data, form.laid_out
    assert stock is not None
    own = stock.sheet is not None or data["stock"] == "custom"
    asked = service.Asked(
        tools=choice.tool_keys(), places=choice.place_keys(), held=choice.held, stock=data["stock"],
        size=[stock.wide, stock.high] if own else None, start=data["start"], cut_marks=data["cut_marks"],
        gates=data["gates"] != "no", units=request.user.units,
    )  # fmt: skip
    made = service.ask(asked, by=request.user, at=clock.now())
    reply = redirect("printed_tags" if isinstance(made, TagRun) else "job", number=made.pk)
    return _remember(reply, form, asked.count)


def _remember(reply: HttpResponse, form: TagForm, count: int, *, before: dict[str, str] | None = None) -> HttpResponse:
    """Next time the sheet goes on where this print ends; another sheet than `before` is a whole one."""
    kept, stock = form.chosen(), form.laid_out
    if before is not None and any(kept[name] != before.get(name, "") for name in _SHEET):
        form.cleaned_data["start"] = 1
    if stock is not None and stock.sheet is not None:
        kept["start"] = str((form.cleaned_data["start"] - 1 + count) % len(stock.places) + 1)
    reply.set_cookie(_COOKIE, json.dumps(kept), max_age=_YEAR, httponly=True, samesite="Lax")
    return reply


def _remembered(request: HttpRequest) -> dict[str, str]:
    try:
        kept = json.loads(request.COOKIES.get(_COOKIE, "{}"))
    except ValueError:
        return {}
    known = ("stock", "gates", "wide", "high", "start", "cut_marks")
    return {name: str(kept[name])[:40] for name in known if name in kept} if isinstance(kept, dict) else {}


def _context(request: HttpRequest, form: TagForm, choice: TagChoice, where: Site) -> dict[str, Any]:
    count = choice.count
    looks = preview(choice, form, request.user.units) if count else None
    return {
        "form": form,
        "choice": choice,
        "count": count,
        "looks": looks,
        "more": max(0, count - FIRST),
        "site": where,
        "lacking": document.lacking(),
        "may_print": can_print(request.user),
        "may_lead": can_lead(request.user),
        "here": request.get_full_path(),
        "held_too": not choice.held and choice.tools.held().exists(),
        **_said(choice),
    }


def _said(choice: TagChoice) -> dict[str, Any]:
    """The first codes of what is chosen; one that was named can be left out again."""
    shown = []
    for name, rows in (("tool", choice.tools), ("place", choice.places)):
        for code in rows.order_by("code").values_list("code", flat=True)[:12]:
            left = choice.asked.copy()
            left.setlist(name, [one for one in choice.asked.getlist(name) if one != code])
            shown.append((code, f"?{left.urlencode()}" if code in choice.asked.getlist(name) else ""))
    kept = [(name, one) for name in ("tool", "place", "held") for one in choice.asked.getlist(name)]
    return {"codes": shown[:12], "kept": kept}


@needs(can_read)
@require_safe
def printed(request: HttpRequest, number: int) -> HttpResponse:
    """One print: its file, and the way back."""
    run = get_object_or_404(TagRun.objects.select_related("by", "put_back_by"), pk=number)
    context = {"run": run, "has_file": service.path_of(run) is not None, "kept_days": KEPT_DAYS, "tools": of_print(run)}
    return render(request, "tooling/tags/printed.html", {**context, "may_print": can_print(request.user), **framed()})


@needs(can_print)
@require_POST
def put_back(request: HttpRequest, number: int) -> HttpResponse:
    """They did not come out; twice is harmless."""
    run = get_object_or_404(TagRun, pk=number)
    count = put_back_service(run, by=request.user, at=clock.now())
    messages.success(request, put_back_said(count, held=bool(run.given.get("held"))))
    return redirect("tags")


@needs(can_read)
@require_safe
def file(request: HttpRequest, number: int) -> HttpResponseBase:
    """The file, in the browser."""
    run = get_object_or_404(TagRun, pk=number)
    path = service.path_of(run)
    if path is None:
        raise Http404
    name = f"tags-{run.at:%Y-%m-%d}-{run.pk}.pdf"
    return FileResponse(path.open("rb"), filename=name, content_type="application/pdf")
