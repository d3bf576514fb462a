"""A sheet of paper as the answer to a request."""

from collections.abc import Callable
from datetime import datetime, tzinfo

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from shared.errors import Refused


def printed(
    request: HttpRequest, draw: Callable[[], bytes], *, name: str, at: datetime, zone: tzinfo, back: str, about: str
) -> HttpResponse:
    """The PDF, which a browser shows and saves under that name and its day; where nothing can be drawn, a page that
    says why and leads back.
    """
    try:
        drawn = draw()
    except Refused as why:
        context = {"message": why.message, "back": back, "about": about}
        return render(request, "tooling/no_paper.html", context, status=503)
    file = f"{name} {at.astimezone(zone):%Y-%m-%d}.pdf"
    return HttpResponse(
        drawn, headers={"Content-Type": "application/pdf", "Content-Disposition": f'inline; filename="{file}"'}
    )
