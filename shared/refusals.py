"""What a browser sees when a deed was refused and no form was there to say so."""

from collections.abc import Callable

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from shared import busy
from shared.errors import Refused, TokenReused
from shared.keep_typed import offered_again


class RefusalMiddleware:
    """Turn a refusal that no view caught into a page: nothing was written, and this is why."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Django asks this for every exception that leaves a view."""
        if isinstance(exception, TokenReused):
            return render(request, "409.html", {"message": exception.message}, status=409)
        if isinstance(exception, Refused):
            return render(request, "400.html", {"message": exception.message}, status=400)
        if isinstance(exception, OperationalError) and busy.is_busy(exception):
            given = {"work": busy.with_what(), "kept": offered_again(request)}
            answer = render(request, "503.html", given, status=503)
            answer["Retry-After"] = str(busy.RETRY_AFTER)
            return answer
        return None
