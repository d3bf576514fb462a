"""What the tags that one person opens with a camera leave for the next: in a cookie, so that nothing is written."""

from typing import Any

from django.conf import settings
from django.core import signing
from django.core.signing import BadSignature
from django.http import HttpRequest, HttpResponse

from shared.access import can_log

STAYS = 30 * 60
_NAME, _SALT = "opened_tags", "tooling.opened-tags"


def left(request: HttpRequest, what: str) -> Any:
    """What an earlier tag of this person left under that name; None where there is none, or where it is too old."""
    return _all(request).get(what)


def leave(request: HttpRequest, reply: HttpResponse, **what: Any) -> HttpResponse:
    """The reply with what this tag leaves behind. Whoever only looks where an address leads (HEAD) opened no tag."""
    if request.method == "HEAD" or not can_log(request.user) or request.user.is_station:
        return reply
    kept = {**_all(request), **what, "who": request.user.pk}
    reply.set_cookie(
        _NAME,
        signing.dumps(kept, salt=_SALT),
        max_age=STAYS,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return reply


def _all(request: HttpRequest) -> dict[str, Any]:
    try:
        kept = signing.loads(request.COOKIES.get(_NAME, ""), salt=_SALT, max_age=STAYS)
    except BadSignature:
        return {}
    return kept if kept["who"] == request.user.pk else {}
