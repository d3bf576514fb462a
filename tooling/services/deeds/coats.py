"""What is put on the surface: sealer, coats, film; and wiping it clean."""

from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def log_sealer(tool: Tool, *, count: int = 1, area: str = "whole", lot: str = "", **said: Unpack[Said]) -> Entry:
    """Sealer coats go on, under the release coats."""
    return record(tool, "sealer", count=count, area=area, lot=lot, **said)


def log_coat(
    tool: Tool,
    *,
    count: int = 1,
    area: str = "whole",
    release_system: str = "",
    lot: str = "",
    reason: str = "",
    **said: Unpack[Said],
) -> Entry:
    """Coats of wax or release liquid go on; another recipe's where `release_system` names one."""
    return record(tool, "coat", count=count, area=area, release_system=release_system, lot=lot, reason=reason, **said)


def lay_film(tool: Tool, *, lot: str = "", **said: Unpack[Said]) -> Entry:
    """A film (PVA) goes on."""
    return record(tool, "film", lot=lot, **said)


def clean(tool: Tool, *, using: str = "", **said: Unpack[Said]) -> Entry:
    """The surface is wiped or washed, `using` water or soap: spoils a film, nothing else."""
    return record(tool, "clean", instrument=using, **said)
