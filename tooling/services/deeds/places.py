"""Where a tool is, and who has it."""

from datetime import date
from typing import Unpack

from tooling.models import Entry, Place, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def move(
    tool: Tool, *, place: Place | None, home: bool = False, counted: int | None = None, **said: Unpack[Said]
) -> Entry:
    """Put somewhere (None: nobody knows where); `home` makes that place its home from then on.

    counted: the number of the count that met it there, or missed it.
    """
    return record(tool, "moved", place=place, home=home, counted=counted, **said)


def change_home(tool: Tool, *, place: Place | None, **said: Unpack[Said]) -> Entry:
    """Lives at a place from now on (None: nowhere in particular). Nobody saw it there."""
    return record(tool, "moved", place=place, home=True, seen=False, **said)


def lend(tool: Tool, *, person: str, until: date | None = None, **said: Unpack[Said]) -> Entry:
    """Lent to a person or a company, until a day where one was agreed."""
    return record(tool, "lent", person=person, until=until, **said)


def hand_back(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Back from whoever had it."""
    return record(tool, "handed_back", **said)
