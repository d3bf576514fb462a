"""Moving in and out on the screen: upload, try, mend, bring in; a form to fill in; the whole shop to take along."""

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shared import clock
from shared.access import can_lead, needs
from shared.errors import Refused
from tooling.forms.moving_in import SettleForm, UploadForm
from tooling.forms.words import RecipesForm
from tooling.models import MovingIn
from tooling.selectors import moving_in as asked
from tooling.services import jobs
from tooling.services.moving_in import files
from tooling.services.moving_in.leaving import EXPORT, TABLES, WORKBOOK
from tooling.services.moving_in.matching import known_ticks, remember_ticks
from tooling.services.moving_in.trying import BRING_IN, TRY, start
from tooling.services.starters import add_starter

_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@needs(can_lead)
@require_http_methods(["GET", "HEAD", "POST"])
def imports(request: HttpRequest) -> HttpResponse:
    """Upload a workbook or tables; those that wait; the form to fill in; the way out."""
    form = UploadForm(request.POST, request.FILES) if request.method == "POST" else UploadForm()
    if form.is_valid():
        try:
            moving = files.take_up(form.cleaned_data["files"], by=request.user, at=clock.now(), given=known_ticks())
        except Refused as refused:
            form.add_error("files", refused.message)
        else:
            return _go_on(request, moving)
    return render(request, "tooling/imports.html", {"form": form, "uploads": asked.waiting()})


@needs(can_lead)
@require_safe
def import_one(request: HttpRequest, number: int) -> HttpResponse:
    """One upload: what has to be said of it, what was found, what can be done."""
    return _page(request, _upload(number), UploadForm())


@needs(can_lead)
@require_POST
def try_again(request: HttpRequest, number: int) -> HttpResponse:
    """Try it: nothing is written into the shop. What one word settles may be said with it."""
    moving = _upload(number)
    form = SettleForm(request.POST)
    if form.is_valid() and "settles" in request.POST:
        moving.given = {**moving.given, **form.cleaned_data}
        moving.save(update_fields=["given"])
        remember_ticks(moving.given)
    elif "recipes" in request.POST:
        _say_recipes(request, moving)
    elif "take_all" in request.POST:
        moving.given = {**moving.given, "leave_wrong": False}
        moving.save(update_fields=["given"])
    return _ask(request, moving, TRY)


@needs(can_lead)
@require_POST
def bring_in(request: HttpRequest, number: int) -> HttpResponse:
    """Write it into the shop, all or nothing."""
    moving = _upload(number)
    if moving.report is None or moving.report["wrong_rows"]:
        messages.warning(request, _("Nothing was written: try it first, until every row is right."))
        return redirect("import_one", number=moving.pk)
    return _ask(request, moving, BRING_IN)


@needs(can_lead)
@require_POST
def upload_again(request: HttpRequest, number: int) -> HttpResponse:
    """The mended file in the place of the one before; what was matched stays."""
    moving = _upload(number)
    form = UploadForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            files.take_up_again(moving, form.cleaned_data["files"], at=clock.now())
        except Refused as refused:
            form.add_error("files", refused.message)
        else:
            return _go_on(request, moving)
    return _page(request, moving, form)


@needs(can_lead)
@require_POST
def drop(request: HttpRequest, number: int) -> HttpResponse:
    """Forget an upload and its file. What was matched is remembered."""
    moving = _upload(number)
    try:
        files.drop(moving, at=clock.now())
    except Refused as refused:
        messages.warning(request, refused.message)
        return redirect("import_one", number=moving.pk)
    messages.success(request, _("Dropped. What its columns are is remembered."))
    return redirect("imports")


@needs(can_lead)
@require_safe
def marked_up(request: HttpRequest, number: int) -> HttpResponseBase:
    """The workbook to be mended."""
    moving = _upload(number)
    path = files.marked_up(moving)
    if not path.is_file():
        raise Http404
    name = f"{moving.name.rpartition('.')[0] or moving.name}-to-mend.xlsx"
    return FileResponse(path.open("rb"), as_attachment=True, filename=name, content_type=_XLSX)


@needs(can_lead)
@require_safe
def template_workbook(request: HttpRequest) -> HttpResponse:
    """The form to fill in."""
    from tooling.services.moving_in.template import NAME, template  # the library of workbooks takes its time to load

    headers = {"Content-Disposition": f'attachment; filename="{NAME}"'}
    return HttpResponse(template(), content_type=_XLSX, headers=headers)


@needs(can_lead)
@require_POST
def export(request: HttpRequest) -> HttpResponse:
    """Ask for the whole shop as a workbook, or as tables."""
    given = {"as": TABLES if request.POST.get("as") == TABLES else WORKBOOK}
    job = jobs.ask(EXPORT, by=request.user, at=clock.now(), given=given)
    return redirect("job", number=job.pk)


def _say_recipes(request: HttpRequest, moving: MovingIn) -> None:
    form = RecipesForm((moving.report or {}).get("no_recipe", {}), request.POST)
    if form.is_valid():
        with transaction.atomic():
            for code in form.starters():
                add_starter(code)
            moving.given = {**moving.given, **form.said()}
            moving.save(update_fields=["given"])
            remember_ticks(moving.given)


def _upload(number: int) -> MovingIn:
    return get_object_or_404(MovingIn.objects.select_related("job", "job__asked_by", "added_by"), pk=number)


def _go_on(request: HttpRequest, moving: MovingIn) -> HttpResponse:
    """After an upload: to what has to be said of it first, else it is tried at once."""
    shown = asked.page(moving)
    if shown.unreadable:
        return redirect("import_one", number=moving.pk)
    return _ask(request, moving, TRY) if shown.is_settled else redirect("import_match", number=moving.pk)


def _ask(request: HttpRequest, moving: MovingIn, kind: str) -> HttpResponse:
    try:
        start(kind, moving, by=request.user, at=clock.now())
    except Refused as refused:
        messages.warning(request, refused.message)
    return redirect("import_one", number=moving.pk)


def _page(request: HttpRequest, moving: MovingIn, form: UploadForm) -> HttpResponse:
    shown = asked.page(moving)
    said: dict[str, Any] = moving.report or {}
    settle = SettleForm(initial=moving.given)
    recipes = RecipesForm(said.get("no_recipe", {}), initial=moving.given)
    return render(
        request,
        "tooling/import_one.html",
        {"shown": shown, "moving": moving, "said": said, "form": form, "settle": settle, "recipes": recipes},
    )
