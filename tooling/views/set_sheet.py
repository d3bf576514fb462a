"""The sheet of a part's tool set, to be printed."""

import re

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared.access import can_lead, can_read, needs
from shared.snapshot import one_moment
from tooling.forms.wanted_at import WantedAtForm
from tooling.models import PartRevision, Shop
from tooling.selectors import parts as asked
from tooling.selectors.set_sheet import set_sheet_of
from tooling.services.on_paper import asked_paper
from tooling.services.set_sheet import draw
from tooling.views.frame import framed
from tooling.views.paper import printed
from tooling.views.parts import no_part


@needs(can_read)
@never_cache
@require_safe
def tool_set_sheet(request: HttpRequest, part: str) -> HttpResponse:
    """A part's tool set on paper, as it is now; without a set, or where nothing can be drawn, a page that says why.

    `?wanted=`: when somebody wants to lay up, so that it says by when to start.
    """
    one = asked.found(part)
    if one is None:
        return _no_set(request, part, None) if "\x00" not in part and asked.makers(part) else no_part(request, part)
    if one.number != part:
        here = reverse("tool_set_sheet", args=[one.number])
        return redirect(f"{here}?{query}" if (query := request.GET.urlencode()) else here)
    units = request.user.units
    form = WantedAtForm(request.GET, shop=Shop.current())
    if not form.is_valid():  # the page of the part says what is wrong with it, beside the field
        return redirect(f"{reverse('part', args=[one.number])}?{request.GET.urlencode()}")
    with one_moment() as at:
        newest = asked.named_revision(one, None)
        revision = asked.named_revision(one, request.GET.get("revision") or None)
        of = (
            set_sheet_of(revision, at, units=units, wanted=form.cleaned_data["wanted"])
            if revision is not None
            else None
        )
    if of is None or not of.answer.lines:
        return _no_set(request, one.number, revision)
    paper = asked_paper(request.GET.get("paper", ""), units)
    return printed(
        request, lambda: draw(of, who=request.user.name, units=units, paper=paper, newest=revision == newest),
        name=re.sub(r"[^A-Za-z0-9._-]+", "-", f"{one.number} {revision.revision}".strip()),
        at=at, zone=of.shop.zone, back=reverse("part", args=[one.number]), about=one.number,
    )  # fmt: skip


def _no_set(request: HttpRequest, number: str, revision: PartRevision | None) -> HttpResponse:
    """Nothing is printed: no such revision, or nobody has written a set down."""
    context = {
        "number": number,
        "revision": revision,
        "asked": request.GET.get("revision", "") if revision is None else "",
        "may_lead": can_lead(request.user),
    }
    return render(request, "tooling/no_set_sheet.html", {**context, **framed()}, status=404)
