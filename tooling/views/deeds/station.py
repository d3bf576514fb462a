"""A deed at a station: when it is written, the tablet shows the rows again, for whoever comes next."""

from collections.abc import Callable
from functools import wraps
from urllib.parse import urlsplit

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import Resolver404, ResolverMatch, resolve

from shared.access import is_station
from tooling.calc.entry import HARD
from tooling.models import Entry, Summary

# Where a deed leads whoever stays with the tool.
_STAYS = frozenset({"tool", "coat", "hold"})


def back_to_rows(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Leads on to the rows of the wall where the view would have stayed with the tool."""

    @wraps(view)
    def opened(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        reply = view(request, *args, **kwargs)
        sent = request.method == "POST" and reply.status_code == 302 and is_station(request.user)
        # Pictures that came along are marked on the page that follows.
        return redirect("wall") if sent and not request.FILES and _is_done(request, reply["Location"]) else reply

    return opened


def _is_done(request: HttpRequest, address: str) -> bool:
    # A tin is opened on the way to a coat.
    if request.resolver_match is not None and request.resolver_match.url_name == "tin":
        return False
    try:
        found = resolve(urlsplit(address).path)
    except Resolver404:
        return False
    return found.url_name in _STAYS or (found.url_name == "seen" and not _is_asked(request, found))


def _is_asked(request: HttpRequest, seen: ResolverMatch) -> bool:
    """After a hard pull somebody has to look at the tool, and inserts have to come back: that is still one deed.

    Whoever has answered is done, but for one who tapped another mark.
    """
    here = request.resolver_match
    if here is not None and here.url_name == "seen" and not request.POST.get("came_off"):
        return False
    code, number = seen.kwargs["code"], seen.kwargs["number"]
    pull = Entry.objects.filter(tool__code=code, number=number).first()
    hard = pull is not None and pull.came_off in HARD
    return hard or Summary.objects.filter(in_mold_of__code=code).exists()
