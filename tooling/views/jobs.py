"""Jobs: the list, one with how far it is, its end, and the file that came of it."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shared import clock, downloads
from shared.access import can_lead, can_log, needs
from shared.errors import Refused
from tooling.models import Job
from tooling.selectors import jobs as asked
from tooling.services import jobs as service
from tooling.services.jobs.files import KEPT_DAYS, file_of


@needs(can_lead)
@require_safe
def jobs(request: HttpRequest) -> HttpResponse:
    """The last jobs."""
    return render(request, "tooling/jobs.html", {"jobs": asked.listed()})


@needs(can_log)
@never_cache
@require_safe
def job(request: HttpRequest, number: int) -> HttpResponse:
    """One job; htmx asks for the piece that changes."""
    shown = asked.page(_of(request, number))
    template = "tooling/_job.html" if request.htmx else "tooling/job.html"
    reply = render(request, template, {"shown": shown, "kept_days": KEPT_DAYS})
    if request.htmx and not shown.is_open and shown.goes_on:
        reply["HX-Redirect"] = shown.goes_on  # whoever waits for it is taken on
    return reply


@needs(can_log)
@require_POST
def cancel(request: HttpRequest, number: int) -> HttpResponse:
    """End a job; twice is harmless."""
    one = _of(request, number)
    try:
        service.cancel(one, at=clock.now())
    except Refused as refused:
        messages.warning(request, refused.message)
    else:
        messages.success(request, _("It will end as soon as it can."))
    return redirect("job", number=one.pk)


@needs(can_log)
@require_safe
def fetch(request: HttpRequest, number: int) -> HttpResponseBase:
    """The file that came of a job."""
    path = file_of(_of(request, number))
    if path is None:
        raise Http404
    return downloads.reply(request, path)


def _of(request: HttpRequest, number: int) -> Job:
    """The job of that number: a lead's are all of them, anybody else's are those that were asked for by the same."""
    one = get_object_or_404(Job.objects.select_related("asked_by"), pk=number)
    if not can_lead(request.user) and one.asked_by_id != request.user.pk:
        raise PermissionDenied
    return one
