"""Every view that takes a PIN is marked, so that no report of an error shows it."""

from collections.abc import Callable

from django.http import HttpResponse
from django.views.decorators.debug import sensitive_post_parameters

from shared.keep_typed import PIN


def takes_pin(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """A view whose forms ask a station whose hands it was."""
    marked = sensitive_post_parameters(PIN)(view)
    marked.hides_pin = True
    return marked
