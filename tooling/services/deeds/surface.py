"""Work on the surface itself, and what was seen of it."""

from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def strip(tool: Tool, *, area: str = "whole", **said: Unpack[Said]) -> Entry:
    """The surface is cleaned back to bare."""
    return record(tool, "strip", area=area, **said)


def repair(tool: Tool, *, area: str = "whole", lot: str = "", **said: Unpack[Said]) -> Entry:
    """The surface is mended; what was mended is bare."""
    return record(tool, "repair", area=area, lot=lot, **said)


def polish(tool: Tool, *, area: str = "whole", **said: Unpack[Said]) -> Entry:
    """The surface is cut and polished; what was polished is bare."""
    return record(tool, "polish", area=area, **said)


def resurface(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Re-gelled or cut back: the surface is new."""
    return record(tool, "resurfaced", **said)


def see_build_up(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Wax, resin or styrene builds up: strip before the next."""
    return record(tool, "build_up", **said)


def check_release(tool: Tool, *, passed: bool, **said: Unpack[Said]) -> Entry:
    """The release was tried."""
    return record(tool, "release_check", passed=passed, **said)


def want_wax(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """Somebody wants a coat before the count is up."""
    return record(tool, "wax_wanted", reason=reason, **said)
