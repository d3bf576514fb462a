"""A deed that mends what stops a part: when it is written, back to the part's page. The address names it as `back`."""

from collections.abc import Callable
from functools import wraps
from urllib.parse import urldefrag, urlsplit

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import Resolver404, resolve
from django.utils.http import urlencode

from shared.going_back import local

# Where a deed is not done yet: more coats, what is seen after a pull, the check or the cross after a cut.
_GOES_ON = frozenset({"coat", "seen", "check_edge", "tape_cross"})
_DONE = frozenset({"tool", "hold"})


def back_to_part(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Leads back to the part where the view would have stayed with the tool; what goes on keeps the way back."""

    @wraps(view)
    def opened(request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        reply, back = view(request, *args, **kwargs), part_asked(request)
        if not back or request.method != "POST" or reply.status_code != 302:
            return reply
        found = _named(reply["Location"])
        if found is None:
            return reply
        name, code = found
        if name in _GOES_ON:
            return redirect(f"{reply['Location']}?{urlencode({'back': back})}")
        if name in _DONE:
            return redirect(f"{back}{'&' if '?' in back else '?'}{urlencode({'after': code})}")
        return reply

    return opened


def part_asked(request: HttpRequest) -> str:
    """The page of a part that the address leads back to; "" for none, and for what is no such page of ours."""
    back = local(urldefrag(request.GET.get("back", "")).url)
    found = _named(back)
    return back if found is not None and found[0] == "part" else ""


def _named(address: str) -> tuple[str, str] | None:
    try:
        found = resolve(urlsplit(address).path)
    except Resolver404:
        return None
    return found.url_name or "", str(found.kwargs.get("code", ""))
