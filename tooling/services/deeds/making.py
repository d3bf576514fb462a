"""A tool that is still being built."""

from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def make_step(tool: Tool, *, step: str, **said: Unpack[Said]) -> Entry:
    """The tool is at a named step of its making."""
    return record(tool, "making", step=step, **said)


def accept(tool: Tool, **said: Unpack[Said]) -> Entry:
    """The making ends: the tool may be used."""
    return record(tool, "accepted", **said)
