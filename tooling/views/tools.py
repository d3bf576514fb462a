"""The list of all tools, and the way to the page of one."""

from dataclasses import dataclass

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shared import clock
from shared.access import can_read, needs
from tooling.forms.tools import FindForm
from tooling.models import Shop
from tooling.selectors.rows import Row, rows
from tooling.selectors.tools import listed
from tooling.words.lines import Around, about, said_of
from tooling.words.status import Sentence

PAGE = 50


@dataclass(frozen=True, slots=True)
class Found:
    """A tool in the list: what it is besides its name, and its state in words where it has one."""

    row: Row
    about: str
    said: Sentence | None


@needs(can_read)
@require_safe
def tools(request: HttpRequest) -> HttpResponse:
    """All tools, or those that have the words in code, old code or name."""
    at, shop = clock.now(), Shop.current()
    form = FindForm(request.GET)
    words = form.cleaned_data["q"] if form.is_valid() else ""
    spans = listed(at, words)
    page = Paginator(spans if form.is_valid() else spans.none(), PAGE).get_page(request.GET.get("page"))
    around = Around(at, shop.zone)
    found = [Found(row, about(row), said_of(row, around)) for row in rows(page.object_list, at)]
    context = {"form": form, "words": words, "page": page, "found": found}
    return render(request, "tooling/tools.html", {**context, "shop": shop, "zone": shop.zone, "now": at})
