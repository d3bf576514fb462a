"""A tool that is built: the step that it comes to, and work at a step without going on."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from shared.access import can_lead
from tooling.forms.deeds.making import GRITS, UNITS, MakingForm, StepForm, WorkAtStepForm
from tooling.selectors.floor import Floor, standing_entries
from tooling.selectors.in_making import in_making, lines_of
from tooling.selectors.making_panel import with_pictures as drawn
from tooling.selectors.step_line import OnLine, StepLine
from tooling.selectors.work_cautions import at_work
from tooling.services import deeds
from tooling.services.making_steps import work_of
from tooling.views.deeds.base import asked, deed, on_the_floor, page, to_tool
from tooling.views.deeds.given import with_pictures
from tooling.words.in_making import logged, waits_for
from tooling.words.lines import Around
from tooling.words.making_cautions import for_making


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
        may_accept=can_lead(request.user) and on.summary.making, waits=_waits(on),
        steps=drawn(line, {}),
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
    known |= _cautions(on, form, more.get("next"), line.now)
    return page(request, template, on, form, **known, materials=_materials(on), **more)


def _waits(on: Floor) -> list[str]:
    """What it waits for, also the time on the tool that it lies on: a step is taken all the same."""
    if on.tool.made_from_id is None:
        return []
    return [said for one in in_making(on.at, [on.tool.pk]) for said in waits_for(one, Around(on.at, on.shop.zone))]


def _cautions(on: Floor, form: MakingForm, *steps: OnLine | None) -> dict[str, Any]:
    """Of the work that was chosen, then of these steps; those of all other work stand below."""
    at = [step for step in steps if step is not None]
    written = [str(entry.payload.get("work", "")) for step in at for entry in step.entries]
    works = [form["work"].data or "", *(work_of(step.name) for step in at), *written]
    cutting = at_work(on.tool.kind, [on.tool.pk])[:1]
    first, others = for_making(on.tool.kind, works, *cutting)
    return {
        "cautions": first,
        "others": others,
        "of_works": [one for one in (*first, *others) if one.about != "making"],
    }


def _materials(on: Floor, most: int = 6) -> list[str]:
    """What was used on it last."""
    used = (entry.payload.get("material") for entry in standing_entries(on.tool, "making"))
    return list(dict.fromkeys(one for one in used if one))[:most]
