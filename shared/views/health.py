"""For whoever watches the server."""

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe


@never_cache
@require_safe
@login_not_required
def healthz(request: HttpRequest) -> HttpResponse:
    """Say "ok" when the database answers, and 503 when it does not."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return HttpResponse("the database does not answer", content_type="text/plain", status=503)
    return HttpResponse("ok", content_type="text/plain")
