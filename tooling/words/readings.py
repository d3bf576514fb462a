"""What was measured, said in one way everywhere: gloss 60° at keel: 84.2 GU (ISO 2813).

The numbers of standards stand here from memory. What the sheet of an instrument names goes first: nothing is worked out
by them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from fractions import Fraction
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _later

from shared.units import METRIC, UNITS, stored, to_si
from tooling.calc.calibration import is_calibration_over
from tooling.words.measures import measure
from tooling.words.terms import QUANTITIES, term
from tooling.words.when import day

GLOSS, ROUGHNESS, DEPTH, DIMENSION = "gloss", "roughness", "depth", "dimension"
VACUUM_DROP, HARDNESS = "vacuum drop", "hardness"


@dataclass(frozen=True, slots=True)
class Measurable:
    """What a reading of a quantity wants to be told. The likeliest stands first.

    units: none where it is a length, in the reader's units. geometries, standards: how it is measured, and by which.
    most: where its scale ends. minutes: whether it is watched over a time.
    """

    units: tuple[str, ...] = ()
    geometries: tuple[str, ...] = ()
    standards: tuple[str, ...] = ()
    most: int | None = None
    minutes: bool = False


MEASURABLE = {
    GLOSS: Measurable(("GU",), ("60°", "20°", "85°"), ("ISO 2813", "ASTM D523")),
    ROUGHNESS: Measurable(("µm", "µin"), ("Ra", "Rz"), ("ISO 21920-2", "ASME B46.1")),
    DEPTH: Measurable(),
    DIMENSION: Measurable(),
    VACUUM_DROP: Measurable(("mbar", "kPa", "inHg"), minutes=True),
    HARDNESS: Measurable(("Shore D", "Barcol"), standards=("ISO 868", "ASTM D2240", "ASTM D2583", "EN 59"), most=100),
}
# What is offered under a field where any unit may be typed.
OFFERED_UNITS = [unit for one in MEASURABLE.values() for unit in one.units]

# What is easily left out, and what two values cannot be compared without.
HINTS = {
    GLOSS: _later(
        "A flat spot, and the same each time. 20° tells more where 60° reads above 70 GU, 85° where it reads below 10 "
        "(from memory)."
    ),
    ROUGHNESS: _later("Say the cut-off with the instrument: two values of different ones cannot be compared."),
    VACUUM_DROP: _later("From which vacuum it dropped is said in words."),
    HARDNESS: _later("Of a Barcol, say with the instrument which impressor it has."),
}


def what(payload: Mapping[str, Any]) -> str:
    """Gloss 60° at keel, without its number: what was measured, how and where."""
    return at_spot(quantity(payload), payload.get("spot", ""))


def quantity(payload: Mapping[str, Any]) -> str:
    """Gloss 60°: what was measured, and how."""
    name = term(QUANTITIES, payload.get("quantity") or _("reading"))
    return f"{name} {payload.get('geometry', '')}".strip()


def at_spot(text: str, spot: str) -> str:
    """The same with where it was, where somebody said so."""
    return _("%(what)s at %(spot)s") % {"what": text, "spot": spot} if spot else text


def value(payload: Mapping[str, Any], units: str = METRIC) -> str:
    """84.2 GU; a length in the reader's units."""
    text, unit = payload.get("value", ""), UNITS.get(payload.get("unit", ""))
    if text and unit is not None and unit.si == "mm":
        length = stored(to_si(Fraction(text), unit))
        known = measure(length, "mm", units)
        return str(known if known.whole else measure(length, "mm", units, [text, unit.symbol]))
    said = f"{text} {payload.get('unit', '')}".strip()
    return said if payload.get("unit") or not text else _("%(value)s, no unit said") % {"value": said}


def said(payload: Mapping[str, Any], units: str = METRIC) -> str:
    """All of it: gloss 60° at keel: 84.2 GU (ISO 2813)."""
    by = payload.get("standard", "")
    return f"{what(payload)}: {value(payload, units)}{f' ({by})' if by else ''}"


def further(payload: Mapping[str, Any], at: datetime, now: datetime, zone: tzinfo) -> Iterator[str]:
    """Whether what measured was past its calibration then: a sentence, or none."""
    until = calibrated_until(payload)
    if until is not None and is_calibration_over(until, at, zone):
        yield _("Its calibration had ended on %(day)s.") % {"day": day(until, now.astimezone(zone).date())}


def calibrated_until(payload: Mapping[str, Any]) -> date | None:
    """The last day on which what measured is good; None where nobody said."""
    text = payload.get("calibrated_until")
    return date.fromisoformat(text) if text else None
