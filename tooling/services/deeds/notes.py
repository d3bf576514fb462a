"""Words and readings that bear on no rule."""

from decimal import Decimal
from typing import Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.ledger import record


def take_note(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Words for the history."""
    return record(tool, "note", **said)


def tell_lead(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Words, or a picture that follows, for the lead: it holds nothing, and stays on the board until a lead saw it."""
    return record(tool, "note", for_lead=True, **said)


def take_reading(
    tool: Tool,
    *,
    quantity: str,
    value: Decimal,
    unit: str = "",
    instrument: str = "",
    minutes: Decimal | None = None,
    **said: Unpack[Said],
) -> Entry:
    """One measured value, with what was measured, by which instrument, and over how many minutes."""
    return record(
        tool, "reading", quantity=quantity, value=value, unit=unit, instrument=instrument, minutes=minutes, **said
    )
