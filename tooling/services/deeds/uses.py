"""Using the surface: lay-up, its end, a part given up, the pull."""

from datetime import datetime, timedelta
from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import Unless, record


def lay_up(
    tool: Tool,
    *,
    part: str = "",
    serial: str = "",
    film: bool | None = None,
    earliest_pull: datetime | timedelta | None = None,
    **said: Unpack[Said],
) -> Entry:
    """A part is begun: the first gel coat or ply is on. Reaches the mold and the inserts in it.

    `earliest_pull` is an instant, or how long after the start.
    """
    return record(tool, "lay_up", part=part, serial=serial, film=film, earliest_pull=earliest_pull, **said)


def end_lay_up(tool: Tool, *, earliest_pull: datetime | None = None, **said: Unpack[Said]) -> Entry:
    """The last ply is on: sets the earliest pull anew."""
    return record(tool, "lay_up_done", earliest_pull=earliest_pull, **said)


def abandon(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """The part is given up: nothing is pulled, and the surface wants a coat before the next."""
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
