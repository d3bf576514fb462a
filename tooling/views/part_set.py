"""The upper half of a part's page: its tool set as it stands, from when it can be laid up, and by when to start."""

from collections.abc import Sequence
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from shared import clock
from shared.access import can_log
from tooling.forms.wanted_at import WantedAtForm
from tooling.models import PartRevision, SetRole, Shop, Tool
from tooling.selectors.parts import revision_called
from tooling.selectors.pictures import mains
from tooling.selectors.tool_set import ToolSet, tool_set
from tooling.views.deeds.base import strip_for
from tooling.views.part_times import Times, times, wanted_form
from tooling.views.set_rows import sections


def of_part(request: HttpRequest, revisions: Sequence[PartRevision]) -> dict[str, Any]:
    """What the page needs besides what it says of the part itself, with the frame of every page."""
    name = request.GET.get("revision")
    chosen = revisions[0] if name is None else revision_called(revisions, name.strip())
    revision = chosen or revisions[0]
    answer = tool_set(revision, clock.now(), units=request.user.units)
    shop, back = answer.asked.shop, _address(revision, revisions)
    form, shown = wanted_form(request.GET, shop), times(answer, shop)
    return {
        "shop": shop,
        "zone": shop.zone,
        "now": answer.at,
        "shown": revision,
        "unknown_revision": (name or "–") if chosen is None else "",
        "answer": answer,
        "sections": sections(answer, request.user, back, shop.zone),
        "times": shown,
        "wanted": form,
        "start_by": _backward(form, answer, shop) if form.is_valid() else None,
        **_picture(answer),
        "unconfirmed": [one.line.what for one in answer.lines if not one.line.confirmed],
        "may_log": can_log(request.user),
        "back": back,
        **_just_written(request, shop, answer),
    }


def _address(revision: PartRevision, revisions: Sequence[PartRevision]) -> str:
    """Of this page, with the revision where that is not the newest."""
    here = reverse("part", args=[revision.part.number])
    return here if revision == revisions[0] else f"{here}?{urlencode({'revision': revision.revision})}"


def _backward(form: WantedAtForm, answer: ToolSet, shop: Shop) -> Times | None:
    """By when to start; None where it cannot be by then, which stands at the field."""
    found = times(answer, shop, form.cleaned_data["wanted"])
    if found.found.cannot is not None:
        form.add_error("wanted", found.found.cannot.text)
        return None
    return found


def _picture(answer: ToolSet) -> dict[str, Any]:
    """The mold that is offered first, and its picture, if it has one."""
    mold = next((one.tool for one in answer.lines if one.role == SetRole.MOLD), None)
    return {} if mold is None else {"mold": mold, "picture": mains([mold.pk]).get(mold.pk)}


def _just_written(request: HttpRequest, shop: Shop, answer: ToolSet) -> dict[str, Any]:
    """What a deed that led back here wrote, with the way to rub it out."""
    code = request.GET.get("after", "")
    if not code or not can_log(request.user):
        return {}
    of_set = (line.line.tool for line in answer.lines if line.line.tool is not None)
    tool = next((one for one in of_set if one.code == code), None) or Tool.objects.called(code).first()
    return {"tool": tool, **strip_for(request, tool, shop)} if tool is not None else {}
