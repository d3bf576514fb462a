"""Never lost: the backups that are kept, a new one, the check of the history, and the seals."""

from urllib.parse import quote, urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from shared import clock, downloads
from shared.access import can_lead, needs
from tooling.models import Seal, Shop
from tooling.selectors import keeping as asked
from tooling.services import jobs, seals
from tooling.services.backup import kept
from tooling.services.keeping import BACKUP, CHECK
from tooling.views.frame import framed


@needs(can_lead)
@never_cache
@require_safe
def keep(request: HttpRequest) -> HttpResponse:
    """When the shop was last backed up, what is kept, and what the last check of the history found."""
    context = {
        "backups": kept.found(),
        "newest": kept.NEWEST,
        "folder": kept.folder(),
        "open": asked.open_jobs(),
        "check": asked.last_check(),
        "seal": seals.last(),
    }
    return render(request, "tooling/keep/keep.html", {**context, **framed()})


@needs(can_lead)
@require_POST
def back_up_now(request: HttpRequest) -> HttpResponse:
    """Ask for a backup; while one is open, twice is once."""
    return redirect("job", number=jobs.ask(BACKUP, by=request.user, at=clock.now(), given={}).pk)


@needs(can_lead)
@require_POST
def check_now(request: HttpRequest) -> HttpResponse:
    """Ask for a check of the history; while one is open, twice is once."""
    return redirect("job", number=jobs.ask(CHECK, by=request.user, at=clock.now(), given={}).pk)


@needs(can_lead)
@require_safe
def backup_file(request: HttpRequest, backup: str) -> HttpResponseBase:
    """One of the backups that are kept."""
    path = kept.path_of(backup)
    if path is None:
        raise Http404
    return downloads.reply(request, path)


@needs(can_lead)
@require_safe
def seal(request: HttpRequest) -> HttpResponse:
    """The last seal, to be printed or sent out; and what became of one that somebody kept."""
    typed = request.GET.get("seal", "").strip()
    digest = asked.digest_in(typed)
    last, shop = seals.last(), Shop.current()
    context = {
        "seal": last,
        "mail": _mail(shop.name, last) if last else "",
        "typed": typed,
        "kept": asked.kept_outside(digest) if digest else None,
    }
    return render(request, "tooling/keep/seal.html", {**context, **framed()})


def _mail(shop: str, last: Seal) -> str:
    """The address that opens a letter with the seal in it, to be sent to somebody outside."""
    words = _(
        "Please keep this letter. It proves later that nothing that was written in the history of our tools before "
        "this day was changed afterwards.\n\nSeal of %(day)s: %(digest)s\n"
    )
    subject = _("%(shop)s: seal of %(day)s") % {"shop": shop or _("The shop"), "day": last.day.isoformat()}
    body = words % {"day": last.day.isoformat(), "digest": last.digest}
    return "mailto:?" + urlencode({"subject": subject, "body": body}, quote_via=quote)
