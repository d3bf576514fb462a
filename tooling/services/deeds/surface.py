"""Work on the surface itself, and what was seen of it."""

from decimal import Decimal
from typing import Any, Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.ledger import record
from tooling.words.limits import CELSIUS, STANDS


class Mended(Said, total=False):
    """How it was mended, with what, and which defects that closed (lines of `calc.defect_lines`)."""

    method: str
    material: str
    lot: str
    defects: Defects


def strip(tool: Tool, *, area: str = "whole", using: str = "", **said: Unpack[Said]) -> Entry:
    """The surface is cleaned back to bare, `using` a solvent or a stripper."""
    return record(tool, "strip", area=area, instrument=using, **said)


def repair(
    tool: Tool,
    *,
    area: str = "whole",
    stands: Decimal | None = None,
    unit: str = CELSIUS.symbol,
    **said: Unpack[Mended],
) -> Entry:
    """The surface is mended; what was mended is bare. `stands`: how hot the filler may get, in °C or °F."""
    return record(tool, "repair", area=area, **filler(stands, unit), **said)


def filler(stands: Decimal | None, unit: str) -> dict[str, Any]:
    """What an entry says of the filler, in the columns of a measured value; all empty where nobody knows."""
    if stands is None:
        return {"value": None, "unit": None, "quantity": None}
    return {"value": stands, "unit": unit, "quantity": STANDS}


def polish(tool: Tool, *, area: str = "whole", using: str = "", **said: Unpack[Mended]) -> Entry:
    """The surface is cut and polished, `using` a compound; what was polished is bare."""
    return record(tool, "polish", area=area, instrument=using, **said)


def resurface(tool: Tool, **said: Unpack[Mended]) -> Entry:
    """Re-gelled or cut back: the surface is new."""
    return record(tool, "resurfaced", **said)


def see_build_up(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Wax, resin or styrene builds up: strip before the next."""
    return record(tool, "build_up", **said)


def check_release(tool: Tool, *, passed: bool, using: str = "", **said: Unpack[Said]) -> Entry:
    """The release was tried, `using` tape or water."""
    return record(tool, "release_check", passed=passed, instrument=using, **said)


def want_wax(tool: Tool, *, reason: str = "", **said: Unpack[Said]) -> Entry:
    """Somebody wants a coat before the count is up."""
    return record(tool, "wax_wanted", reason=reason, **said)
