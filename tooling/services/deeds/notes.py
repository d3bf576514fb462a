"""Words and readings that bear on no rule."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.deeds.measured_with import measure_with, refuse_without_unit
from tooling.services.deeds.undo import sent_before
from tooling.services.ledger import record
from tooling.services.trying import together


def take_note(tool: Tool, *, defects: Defects = "", **said: Unpack[Said]) -> Entry:
    """Words for the history, and what was seen of defects (lines of `calc.defect_lines`)."""
    return record(tool, "note", defects=defects, **said)


def tell_lead(tool: Tool, **said: Unpack[Said]) -> Entry:
    """Words, or a picture that follows, for the lead: it holds nothing, and stays on the board until a lead saw it."""
    return record(tool, "note", for_lead=True, **said)


class Measured(Said, total=False):
    """One measured value: with what, until when that was calibrated, where, at which geometry, by which standard."""

    unit: str
    instrument: str
    minutes: Decimal | None
    spot: str
    geometry: str
    standard: str
    calibrated_until: date | None


def take_reading(tool: Tool, *, quantity: str, value: Decimal, **said: Unpack[Measured]) -> Entry:
    """One measured value, with what was measured, and over how many minutes. Without a unit it says nothing."""
    refuse_without_unit(said.get("unit", ""))
    return record(tool, "reading", quantity=quantity, value=value, **said)


def take_readings(tool: Tool, *, readings: Sequence[Mapping[str, Any]], **said: Unpack[Said]) -> list[Entry]:
    """What was measured in one go, as `take_reading` takes each: one entry a value, all or none.

    The first has the token of the form and its words; the others are of its moment.
    """
    with together():
        was_sent = sent_before(said.get("token"))
        first = take_reading(tool, **{**readings[0], **said})
        return [first, *measure_with(first, readings[1:], was_sent=was_sent)]
