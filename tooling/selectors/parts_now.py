"""The parts of a list as they stand: the molds of each one's tool set, and when it can be laid up, in one pass."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from shared.units import METRIC
from tooling.models import Part, SetRole
from tooling.selectors.lay_up_from import of_each
from tooling.selectors.lay_up_times import LayUpFrom
from tooling.selectors.parts import makers_of_each
from tooling.selectors.tool_set import tool_sets


@dataclass(frozen=True, slots=True)
class PartNow:
    """A part with the molds that its newest set offers; where it has no set, `made_in`: those that histories name."""

    part: Part
    molds: tuple[str, ...] = ()
    found: LayUpFrom | None = None
    made_in: tuple[str, ...] = ()


def parts_now(parts: Sequence[Part], at: datetime, *, units: str = METRIC) -> list[PartNow]:
    """In the same order; `parts` as `listed` gives them. In as many queries for a page of them as for one."""
    newest = {part.pk: revision for part in parts for revision in list(part.revisions.all())[:1]}
    answers = tool_sets(newest.values(), at, units=units) if newest else {}
    filled = {key: answers[one.pk] for key, one in newest.items() if answers[one.pk].lines}
    times = of_each(filled.values()) if filled else {}
    made = makers_of_each([part for part in parts if part.pk not in filled])
    shown = []
    for part in parts:
        lines = filled[part.pk].lines if part.pk in filled else ()
        molds = tuple(one.line.what for one in lines if one.role == SetRole.MOLD and one.offered)
        found = times[newest[part.pk].pk] if part.pk in filled else None
        shown.append(PartNow(part, molds, found, tuple(made.get(part.pk, ()))))
    return shown
