"""Using the surface: lay-up, its end, a lay-up given up, the pull."""

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from typing import Any, Unpack

from django.utils.translation import gettext as _

from shared.errors import AskFirst
from tooling.models import Entry, PartRevision, Summary, Tool
from tooling.selectors.usable.answer import reasons
from tooling.services.deeds.base import Said
from tooling.services.drafts import LeftAlone
from tooling.services.ledger import Unless, record


class NewlyAgainst(AskFirst):
    """Something stands against it that nobody who asked for it has seen."""


def lay_up(
    tool: Tool,
    *,
    part: str = "",
    revision: PartRevision | None = None,
    serial: str = "",
    film: bool | None = None,
    earliest_pull: datetime | timedelta | LeftAlone | None = None,
    reason: str = "",
    seen: Collection[str] | None = None,
    **said: Unpack[Said],
) -> Entry:
    """A part is begun: the first gel coat or ply is on. Reaches the mold and the inserts in it.

    Order: the locks; what stands against it is asked anew; the entry, which keeps what stood against it.

    `revision`: of the part, where it is known; else it is judged by the newest, and the entry names none.
    `earliest_pull` is an instant, or how long after the start. `reason`: why it is started all the same. `seen`: the
    keys of the reasons against it that are known to who asks; NewlyAgainst where there is another by now. None: nobody
    looked beforehand, and nothing is asked.
    """

    about = {"part": part, "revision": revision, "film": bool(film)}
    return record(
        tool,
        "lay_up",
        part=part,
        revision=revision.revision if revision is not None else "",
        serial=serial,
        film=film,
        earliest_pull=earliest_pull,
        reason=reason,
        unless=None if seen is None else nothing_else_against(tool, seen, at=said.get("at"), **about),
        **said,
    )


def nothing_else_against(tool: Tool, seen: Collection[str], *, at: datetime | None, **about: Any) -> Unless:
    """Raises NewlyAgainst under the locks where more stands against the use than the keys that were seen.

    about: what `reasons` is asked for. The entry keeps what stood against it.
    """

    def unless(_summary: Summary, now: datetime) -> Mapping[str, Any]:
        found = reasons([tool], at or now, **about)[tool.pk]
        stops = [one.key for one in found if one.stops]
        if not set(stops) <= set(seen):
            raise NewlyAgainst(_("Something else stands against it by now. Nothing is written yet: look again."))
        return {"against": ", ".join(stops)}

    return unless


def end_lay_up(
    tool: Tool, *, earliest_pull: datetime | timedelta | LeftAlone | None = None, **said: Unpack[Said]
) -> Entry:
    """The last ply is on: sets the earliest pull anew."""
    return record(tool, "lay_up_done", earliest_pull=earliest_pull, **said)


def abandon(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """The lay-up is given up: nothing is pulled, and the surface wants a coat before the next."""
    return record(tool, "abandoned", reason=reason, **said)


def log_pull(
    tool: Tool,
    *,
    count: int = 1,
    came_off: str = "",
    film: bool | None = None,
    part: str = "",
    serial: str = "",
    cause: str = "",
    fault: str = "",
    surface: Tool | None = None,
    part_damaged: bool | None = None,
    tool_damaged: bool | None = None,
    inserts_back: bool | None = None,
    unless: Unless | None = None,
    **said: Unpack[Said],
) -> Entry:
    """Parts come off. The first takes the part that was laid up, every other is judged as a use.

    inserts_back: whether all mold inserts were there afterwards; None where nobody said.
    """
    return record(
        tool,
        "pull",
        count=count,
        came_off=came_off,
        film=film,
        part=part,
        serial=serial,
        cause=cause,
        fault=fault,
        surface=surface,
        part_damaged=part_damaged,
        tool_damaged=tool_damaged,
        inserts_back=inserts_back,
        unless=unless,
        **said,
    )
