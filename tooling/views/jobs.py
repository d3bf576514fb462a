"""Jobs: the list, one with how far it is, its end, and the file that came of it."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shared import clock, downloads
from shared.access import can_lead, needs
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


@needs(can_lead)
@never_cache
@require_safe
def job(request: HttpRequest, number: int) -> HttpResponse:
    """One job; htmx asks for the piece that changes."""
    shown = asked.page(get_object_or_404(Job.objects.select_related("asked_by"), pk=number))
    template = "tooling/_job.html" if request.htmx else "tooling/job.html"
    reply = render(request, template, {"shown": shown, "kept_days": KEPT_DAYS})
    if request.htmx and not shown.is_open and shown.goes_on:
        reply["HX-Redirect"] = shown.goes_on  # whoever waits for it is taken on
    return reply


@needs(can_lead)
@require_POST
def cancel(request: HttpRequest, number: int) -> HttpResponse:
    """End a job; twice is harmless."""
    one = get_object_or_404(Job, pk=number)
    try:
        service.cancel(one, at=clock.now())
    except Refused as refused:
        messages.warning(request, refused.message)
    else:
        messages.success(request, _("It will end as soon as it can."))
    return redirect("job", number=one.pk)


@needs(can_lead)
@require_safe
def fetch(request: HttpRequest, number: int) -> HttpResponseBase:
    """The file that came of a job."""
    path = file_of(get_object_or_404(Job, pk=number))
    if path is None:
        raise Http404
    return downloads.reply(request, path)
