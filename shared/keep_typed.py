"""What was typed while nobody was signed in any more: kept, and shown again after signing in. Never sent by itself."""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.http import HttpRequest, HttpResponseRedirect, QueryDict

_KEY = "typed"
# The name under which a PIN is sent: nothing ever keeps it.
PIN = "pin"
# A list of steps has the most fields; whatever is longer was not typed by a person.
MOST_FIELDS, MOST_TEXT = 130, 20_000
# Never kept, and never written into a page: whoever reads these could be somebody else.
_OF_ONE_SENDING, _SECRET = "csrfmiddlewaretoken", (PIN, "password")


def keeps_typed(view: Callable[..., Any]) -> Callable[..., Any]:
    """Marks a view whose form is filled in again after signing in."""
    view.keeps_typed = True  # type: ignore[attr-defined]
    return view


class AskWhoItIs(LoginRequiredMiddleware):
    """Django's own, which leads to the door; a form that was sent is kept for the way back."""

    def handle_no_permission(self, request: HttpRequest, view_func: Callable[..., Any]) -> HttpResponseRedirect:
        """A deed was sent, or any other page opened, by somebody who is not signed in."""
        if request.method == "POST" and _keeps(view_func):
            _keep(request)
        return super().handle_no_permission(request, view_func)


def _keeps(view: Callable[..., Any] | None) -> bool:
    return getattr(view, "keeps_typed", False)


def _typed(request: HttpRequest) -> list[tuple[str, list[Any]]]:
    return [
        (name, values)
        for name, values in request.POST.lists()
        if name != _OF_ONE_SENDING and not name.lower().startswith(_SECRET)
    ]


def offered_again(request: HttpRequest) -> list[tuple[str, Any]]:
    """A deed's form that was sent and not written, to be sent once more with one tap; [] where it cannot be whole."""
    match = request.resolver_match
    if request.method != "POST" or match is None or not _keeps(match.func) or request.FILES:
        return []
    typed = _typed(request)
    if {name for name, _ in typed} != set(request.POST) - {_OF_ONE_SENDING}:
        return []
    return [(name, value) for name, values in typed for value in values]


def _keep(request: HttpRequest) -> None:
    typed = _typed(request)
    long = sum(len(name) + sum(len(str(value)) for value in values) for name, values in typed)
    if len(typed) <= MOST_FIELDS and long <= MOST_TEXT:
        request.session[_KEY] = {"path": request.path, "typed": typed}


def typed_before(request: HttpRequest) -> QueryDict | None:
    """What was typed at this address before signing in, once."""
    kept = request.session.get(_KEY)
    if kept is None or request.method != "GET" or kept["path"] != request.path:
        return None
    del request.session[_KEY]
    typed = QueryDict(mutable=True)
    for name, values in kept["typed"]:
        typed.setlist(name, values)
    return typed


def sent(request: HttpRequest) -> QueryDict | None:
    """What was typed: just now, or before somebody had to sign in again."""
    return request.POST if request.method == "POST" else typed_before(request)
