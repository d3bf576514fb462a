"""The trim bench: what came off and waits for its cuts, oldest first."""

from dataclasses import dataclass, replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from shared.access import can_do, can_log, can_read, needs
from shared.snapshot import as_of_one_moment
from tooling.selectors.usable.reason import Reason
from tooling.views.frame import framed
from tooling.words.deeds import TRIMMED
from tooling.words.when import Figure, figure, moment
from trimfixtures.selectors import bench as asked
from trimfixtures.selectors.bench import AtBench, Step
from trimfixtures.selectors.cautions import at_work
from trimfixtures.words.bench import part_said, stage_said
from trimfixtures.words.outcomes import spoilt


@dataclass(frozen=True, slots=True)
class Said:
    """One trim mask of a row: its stage, what stands against it, what mends that, and where; else what is to know."""

    step: Step
    stage: str
    why: list[Reason]
    word: Any = ""
    address: str = ""

    @property
    def know(self) -> list[Reason]:
        """What there is to know of it; where it lies is said already."""
        return [one for one in self.step.line.notes if one.code != "not_home"]


@dataclass(frozen=True, slots=True)
class Row:
    """A part that waits: its next cut and the way to write it, what comes behind, and what is done.

    likeliest: the first that can be cut now.
    """

    one: AtBench
    key: Figure
    said: str
    next: Said
    later: list[Said]
    done: list[Said]
    address: str
    spoilt: str = ""
    likeliest: bool = False


@needs(can_read)
@require_safe
@as_of_one_moment
def bench(request: HttpRequest) -> HttpResponse:
    """All that waits, and the way to whatever is not usable."""
    frame = framed()
    found = asked.bench(frame["now"], units=request.user.units)
    rows = [_row(one, request.user, frame) for one in found.rows]
    first = next((place for place, row in enumerate(rows) if not row.next.why and not row.spoilt), None)
    rows = [replace(row, likeliest=place == first) for place, row in enumerate(rows)]
    context = {"rows": rows, "more": found.more, "total": len(rows) + found.more, "may_log": can_log(request.user)}
    tools = (step.step.line.tool for row in rows for step in (row.next, *row.later))
    context["cautions"] = at_work({tool.pk for tool in tools if tool is not None})
    return render(request, "trimfixtures/bench.html", {**context, **frame})


def _row(one: AtBench, person: Any, frame: dict[str, Any]) -> Row:
    said = [_said(step, person) for step in one.steps]
    code, cut = one.next.line.line.what, one.spoilt
    return Row(
        spoilt=spoilt(cut.outcome, cut.code, moment(cut.at, frame["now"], frame["zone"])) if cut is not None else "",
        one=one,
        key=figure(one.off_at, frame["now"], frame["zone"]),
        said=part_said(one.revision.part.number, one.serial),
        next=next(step for step in said if step.step == one.next),
        later=[step for step in said if not step.step.done and step.step != one.next],
        done=[step for step in said if step.step.done],
        address=reverse(TRIMMED.name, args=[code], query={"part": one.revision.part.number, "serial": one.serial}),
    )


def _said(step: Step, person: Any) -> Said:
    """With the way to what mends it, for whoever may go there."""
    why = list(step.line.reasons)
    for one in why:
        if one.deed is not None and one.address and can_do(person, as_lead=one.deed.is_a_leads):
            return Said(step, stage_said(step.stage), why, one.deed.word, one.address)
    return Said(step, stage_said(step.stage), why)
