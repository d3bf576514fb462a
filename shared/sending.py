"""Deeds that a page sends without leaving itself (sending.js), so that a bad connection costs nothing typed."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseRedirectBase

# Sent along by the script, and what it is answered instead of a redirect: it goes there when the deed is through.
SENT_BY_SCRIPT, GO_TO = "X-Sending", "Go-To"


class SendingMiddleware:
    """Tells the script where to go: of a redirect that a browser follows by itself a script sees only the end."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if SENT_BY_SCRIPT not in request.headers or not isinstance(response, HttpResponseRedirectBase):
            return response
        told = HttpResponse(status=204, headers={GO_TO: response.url})
        told.cookies = response.cookies
        return told
