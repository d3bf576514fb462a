"""Why a tool may not be used for the parts in whose tool sets it stands, beside how its own surface stands."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from shared.units import METRIC
from tooling.models import Part, PartRevision, Tool
from tooling.selectors.tool_set import ToolSet, tool_sets
from tooling.selectors.usable.answer import reasons
from tooling.selectors.usable.reason import Reason

# What the page of a tool says of it in its first sentence.
_SAID_BY_STATE = frozenset({"retired", "making"})
# And what it says of it elsewhere.
_SAID_BESIDE = frozenset({"told_to_lead", "not_home"})


@dataclass(frozen=True, slots=True)
class SetStop:
    """The newest set of a part that has the tool, and what stops it there besides how its surface stands.

    answer: None where the tool is asked about by itself.
    """

    answer: ToolSet | None
    reasons: tuple[Reason, ...]
    notes: tuple[Reason, ...] = ()

    @property
    def part(self) -> str:
        """The number of the part."""
        return "" if self.answer is None else self.answer.revision.part.number

    @property
    def keys(self) -> frozenset[str]:
        """What stops it, to be compared with another part."""
        return frozenset(one.key for one in self.reasons)


def set_stops(
    tool: Tool, sets: Mapping[Part, list[PartRevision]], at: datetime, *, units: str = METRIC
) -> list[SetStop]:
    """One for each part, also where nothing stops it; sets: the revisions of each part that have it, the newest first.

    It is what the page of the part says of this tool, in as many queries for one part as for many.
    """
    newest = [revisions[0] for revisions in sets.values()]
    answers = tool_sets(newest, at, units=units) if newest else {}
    return [_stop(answers[one.pk], _of(answers[one.pk], tool)) for one in newest]


def own_stop(tool: Tool, at: datetime, *, units: str = METRIC) -> SetStop:
    """What stops it whatever it is used for, where it stands in no set."""
    return _stop(None, reasons([tool], at, units=units)[tool.pk])


def _of(answer: ToolSet, tool: Tool) -> Iterable[Reason]:
    return next(((*line.reasons, *line.notes) for line in answer.lines if line.line.tool_id == tool.pk), ())


def _stop(answer: ToolSet | None, every: Iterable[Reason]) -> SetStop:
    found = list(_besides(every))
    notes = (one for one in found if not one.stops and one.code not in _SAID_BESIDE)
    return SetStop(answer, tuple(one for one in found if one.stops), tuple(notes))


def _besides(every: Iterable[Reason]) -> Iterable[Reason]:
    """The state of a surface has a mark, unless it is the part's own number of pulls that is done."""
    return (one for one in every if one.code not in _SAID_BY_STATE and (not one.mark or one.code == "part_count"))
