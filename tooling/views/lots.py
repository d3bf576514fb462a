"""The lots that were used: of wax, of release, of film, of fillers and of what tools were built with."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shared.access import can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.forms.containment import FindLotForm
from tooling.selectors.containment.lots import lots_used
from tooling.views.frame import framed
from tooling.words.lots import used_for

PAGE = 60


@needs(can_read)
@require_safe
@as_of_one_moment
def lots(request: HttpRequest) -> HttpResponse:
    """All of them, or those with some letters in them, that which was used last first."""
    box = FindLotForm(request.GET)
    asked = box.cleaned_data["q"] if box.is_valid() else ""
    page = Paginator(lots_used(asked), PAGE).get_page(request.GET.get("page"))
    rows = [(one, used_for(one)) for one in page.object_list]
    return render(request, "tooling/lots.html", {"box": box, "asked": asked, "page": page, "rows": rows, **framed()})
