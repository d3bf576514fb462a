"""Why a tool may not be used for the parts in whose tool sets it stands, beside how its own surface stands."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from shared.units import METRIC
from tooling.models import Part, PartRevision, Tool
from tooling.selectors.tool_set import ToolSet, tool_sets
from tooling.selectors.usable.reason import Reason

# What the page of a tool says of it in its first sentence.
_SAID_BY_STATE = frozenset({"retired", "making"})


@dataclass(frozen=True, slots=True)
class SetStop:
    """The newest set of a part that has the tool, and what stops it there besides how its surface stands."""

    answer: ToolSet
    reasons: tuple[Reason, ...]

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
    return [SetStop(answers[one.pk], tuple(_besides(_of(answers[one.pk], tool)))) for one in newest]


def _of(answer: ToolSet, tool: Tool) -> Iterable[Reason]:
    return next((line.reasons for line in answer.lines if line.line.tool_id == tool.pk), ())


def _besides(reasons: Iterable[Reason]) -> Iterable[Reason]:
    """The state of a surface has a mark, unless it is the part's own number of pulls that is done."""
    return (one for one in reasons if one.code not in _SAID_BY_STATE and (not one.mark or one.code == "part_count"))
