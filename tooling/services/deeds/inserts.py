"""Mold inserts installed in a mold and removed."""

from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def install(tool: Tool, *, mold: Tool, **said: Unpack[Said]) -> Entry:
    """The insert goes into a mold."""
    return record(tool, "installed", mold=mold, **said)


def remove(tool: Tool, *, serial: str = "", **said: Unpack[Said]) -> Entry:
    """The insert comes out of its mold, or stays in the part whose serial is named."""
    return record(tool, "removed", serial=serial, **said)
