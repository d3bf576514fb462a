"""Tags: the list of those to print, the last prints, and that the address they lead to is reserved."""

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from shared import clock
from shared.access import can_lead, can_print, can_read, needs
from shared.errors import Refused
from shared.going_back import local
from tooling.models import TagRun
from tooling.selectors.tags_wanted import wanted, wants
from tooling.services.tags.reserved import say_reserved
from tooling.views.frame import framed
from tooling.words.tag_site import site
from tooling.words.tags import reason

PAGE, LAST = 50, 5


@needs(can_read)
@require_safe
def tags(request: HttpRequest) -> HttpResponse:
    """Which tools want a tag and why, and the ways to any other tag."""
    frame = framed()
    page = Paginator(wanted().select_related("tool", "lost_by"), PAGE).get_page(request.GET.get("page"))
    found = [
        (want, reason(want.tag, want.now, want.other, frame["now"], frame["zone"]))
        for want in wants(list(page.object_list), frame["now"])
    ]
    context = {
        "page": page,
        "found": found,
        "last": TagRun.objects.select_related("by")[:LAST],
        "site": site(settings.SITE_URL, frame["shop"].tag_address),
        "may_print": can_print(request.user),
    }
    return render(request, "tooling/tags/tags.html", {**context, **frame})


@needs(can_lead)
@require_POST
def reserved(request: HttpRequest) -> HttpResponse:
    """A lead says that the router keeps the number for this machine; kept for exactly that address."""
    try:
        say_reserved(settings.SITE_URL, shown=request.POST.get("address", ""), by=request.user, at=clock.now())
    except Refused as refused:
        messages.error(request, refused.message)
    else:
        messages.success(request, _("Kept: %(address)s is reserved.") % {"address": settings.SITE_URL})
    return redirect(local(request.POST.get("back", "")) or "tags")
