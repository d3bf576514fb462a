"""A tool that is built: the step that it comes to, and work at a step without going on."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.forms.deeds.making import GRITS, UNITS, MakingForm, StepForm, WorkAtStepForm
from tooling.selectors.floor import Floor, standing_entries
from tooling.selectors.in_making import lines_of
from tooling.selectors.step_line import StepLine
from tooling.services import deeds
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import with_pictures
from tooling.words.in_making import logged


@deed()
def make_step(request: HttpRequest, code: str) -> HttpResponse:
    """It comes to a step: the next with one tap, another one, or one that is on no list."""
    on = on_the_floor(code)
    line = lines_of([on.tool])[on.tool.pk]
    elsewhere = {one.name: where for one in line.steps if (where := logged(one.by_entry, on.tool)) is not None}
    others = [one.name for one in line.steps if one.name not in elsewhere]
    form = StepForm(**asked(request, on), **_stands(request, on), others=others, elsewhere=list(elsewhere))
    following = line.next
    return _write(
        request, "make_step", on, form, line,
        next=following, where=elsewhere.get(following.name) if following is not None else None, elsewhere=elsewhere,
        may_accept=can_lead(request.user) and on.summary.making,
    )  # fmt: skip


@deed()
def make_work(request: HttpRequest, code: str) -> HttpResponse:
    """Work at the step that it is at."""
    on = on_the_floor(code)
    line = lines_of([on.tool])[on.tool.pk]
    at = line.now.name if line.now is not None else ""
    form = WorkAtStepForm(**asked(request, on), **_stands(request, on), initial={"step": at})
    return _write(request, "make_work", on, form, line)


def _stands(request: HttpRequest, on: Floor) -> dict[str, Any]:
    """Why no step can be written of it, and whether it would leave use for it."""
    if on.summary.retired:
        return {"amiss": _("It is retired: a lead reinstates it first."), "again": False}
    if on.summary.making or can_lead(request.user):
        return {"amiss": "", "again": not on.summary.making}
    return {"amiss": _("It is in use. Only a lead takes it back into the making."), "again": False}


def _write(
    request: HttpRequest, template: str, on: Floor, form: MakingForm, line: StepLine, **more: Any
) -> HttpResponse:
    if form.is_valid():
        with form.told():
            entry = form.write_down(deeds.make_step, on.tool, step=form.cleaned_data["said"], **form.facts())
            return with_pictures(request, entry, form, to_tool(on))
    known: dict[str, Any] = {"line": line, "amiss": form.amiss, "units": UNITS, "grits": GRITS}
    return page(request, template, on, form, **known, materials=_materials(on), **more)


def _materials(on: Floor, most: int = 6) -> list[str]:
    """What was used on it last."""
    used = (entry.payload.get("material") for entry in standing_entries(on.tool, "making"))
    return list(dict.fromkeys(one for one in used if one))[:most]
