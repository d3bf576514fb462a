"""What the browser sent cannot be taken in before any page looks at it."""

from django.core.exceptions import TooManyFilesSent
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from shared.patience import MOST_FILES


def not_right(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Says what can be changed, where that is known."""
    message = ""
    if isinstance(exception, TooManyFilesSent):
        message = _("These are too many files to be sent at once. Send up to %(most)s.") % {"most": MOST_FILES}
    return render(request, "400.html", {"message": message}, status=400)
