"""How hot a tool may be, and what says so: the tool itself, or the filler of a repair."""

from collections.abc import Mapping
from datetime import datetime, tzinfo
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction
from typing import Any

from django.utils.translation import gettext as _

from shared.units import METRIC, MOST, NotRead, Unit, read, stored, to_si, unit_of
from tooling.words.measures import Measure, measure
from tooling.words.when import long_day

CELSIUS = unit_of("°C", "")
# What the number of a repair measures: it stands in the columns quantity, value and unit of the history.
STANDS = "service temperature"


def stands(payload: Mapping[str, Any]) -> tuple[Decimal, list[str]] | None:
    """What the filler of a repair stands in °C, with the text and unit it was typed in; None where nobody said.

    A sheet that names no unit means °C, as its other columns do; a number of something else is no limit.
    """
    text, unit = payload.get("value", ""), _unit(payload.get("unit", ""))
    if text == "" or unit is None or payload.get("quantity", STANDS).strip().lower() != STANDS:
        return None
    celsius = stored(to_si(Fraction(text), unit))
    return (celsius, [text, unit.symbol]) if abs(celsius) <= MOST else None


def stands_said(payload: Mapping[str, Any]) -> str:
    """60 °C, as it was typed; "" where a repair says nothing of it."""
    known = stands(payload)
    return " ".join(known[1]) if known is not None else ""


def repair_says(at: datetime, stands: Measure, now: datetime, zone: tzinfo) -> str:
    """Where a limit comes from: repair of 3 November: filler stands 60 °C."""
    said = {"day": long_day(at, now, zone), "stands": stands}
    return _("repair of %(day)s: filler stands %(stands)s") % said


def tool_says(code: str, stands: Measure) -> str:
    """Where a limit comes from that no repair lowers: TN-HULL itself stands 70 °C."""
    return _("%(code)s itself stands %(stands)s") % {"code": code, "stands": stands}


def in_units(celsius: Decimal, system: str, as_typed: Any) -> Measure:
    """A temperature for a reader. One that was typed in another unit is rounded down, with what was typed beside it."""
    said = measure(celsius, CELSIUS.symbol, system, as_typed)
    if not as_typed or system != METRIC or as_typed[1] == CELSIUS.symbol:
        return said
    down = celsius.quantize(Decimal("0.1"), ROUND_FLOOR).normalize()
    return Measure(f"{down:f}", f"{said.unit} ({' '.join(as_typed)})")


def _unit(word: str) -> Unit | None:
    try:
        return read(f"0 {word}".strip(), CELSIUS).unit
    except NotRead:
        return None
