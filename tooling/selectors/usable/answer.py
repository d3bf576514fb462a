"""The question itself: why a tool, or each of several, may not be used."""

from collections.abc import Iterable
from datetime import datetime

from shared.units import METRIC
from tooling.models import PartRevision, Tool
from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import Reason
from tooling.selectors.usable.registry import families


def reasons(
    tools: Iterable[Tool],
    at: datetime,
    *,
    part: str = "",
    revision: PartRevision | None = None,
    film: bool = False,
    units: str = METRIC,
) -> dict[int, list[Reason]]:
    """What stands against using each tool at a moment, by its key, what stops it first; nothing where it may be used.

    part: the number of the part that it is asked for. revision: which of it, else the newest. film: a fresh one is
    said to be on, so none is missing.
    units: those of the reader. How many queries it takes does not grow with the tools, nor with their histories.

    Of a past moment it is what stood against it then: by the entries up to then, and the recipes that held. What is
    typed (limits, hand, matched set, the date before which it is not used, the part and the lines of its tool set) is
    taken as it stands now.
    """
    return reasons_of(Asked(tools, at, part=part, revision=revision, film=film, units=units))


def reasons_of(asked: Asked) -> dict[int, list[Reason]]:
    """The same of what was asked; what it read stays with it."""
    found: dict[int, list[Reason]] = {tool.pk: [] for tool in asked.tools}
    for family in families():
        for key, reason in family(asked):
            found[key].append(reason)
    return {key: sorted(one, key=lambda reason: not reason.stops) for key, one in found.items()}
