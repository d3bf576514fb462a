"""What was measured before: how and where on a tool, and with which instruments in the shop."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from tooling.models import Entry, Tool
from tooling.words.readings import calibrated_until

# How many readings of the shop, and of the tool, are looked through.
_LOOKED, _LOOKED_HERE = 100, 20


@dataclass(frozen=True, slots=True)
class Instrument:
    """What measured, and until when it was said to be good."""

    name: str
    until: date | None = None


@dataclass(frozen=True, slots=True)
class Before:
    """What the last reading of a tool says, by quantity, the newest first, and where it was measured (`spots`).

    instruments: those of the shop, by quantity, the last used first. own: by quantity the one that somebody used last
    on this tool themselves.
    """

    last: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    spots: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    instruments: Mapping[str, tuple[Instrument, ...]] = field(default_factory=dict)
    own: Mapping[str, str] = field(default_factory=dict)

    def named(self, name: str) -> Instrument | None:
        """An instrument by its name, in any case."""
        every = (one for found in self.instruments.values() for one in found)
        return next((one for one in every if one.name.casefold() == name.strip().casefold()), None)


def measured_before(tool: Tool, at: datetime, who: int | None = None) -> Before:
    """What a form may offer at a moment, in two queries; who: the key of the person it is offered to."""
    readings = Entry.objects.filter(kind="reading", at__lte=at).standing().order_by("-at", "-pk")
    here = list(readings.filter(tool=tool)[:_LOOKED_HERE])
    last: dict[str, Mapping[str, Any]] = {}
    for entry in here:
        last.setdefault(entry.payload.get("quantity", ""), entry.payload)
    own: dict[str, str] = {}
    for entry in here:
        if who is not None and entry.by_id == who:
            own.setdefault(entry.payload.get("quantity", ""), entry.payload.get("instrument", ""))
    return Before(last, {quantity: _spots(here, quantity) for quantity in last}, _instruments(readings), own)


def _spots(here: Sequence[Entry], quantity: str) -> tuple[str, ...]:
    """The spots of the last visit in their order, then those of the visits before it."""
    visits: dict[datetime, list[str]] = {}
    for entry in here:
        if entry.payload.get("quantity", "") == quantity and entry.payload.get("spot"):
            visits.setdefault(entry.at, []).insert(0, entry.payload["spot"])
    return tuple(dict.fromkeys(spot for spots in visits.values() for spot in spots))


def _instruments(readings: Any) -> dict[str, tuple[Instrument, ...]]:
    found: dict[str, dict[str, Instrument]] = {}
    for payload in readings.values_list("payload", flat=True)[:_LOOKED]:
        name = payload.get("instrument", "")
        if name:
            of = found.setdefault(payload.get("quantity", ""), {})
            stood = of.setdefault(name.casefold(), Instrument(name, calibrated_until(payload)))
            if stood.until is None:
                of[name.casefold()] = Instrument(stood.name, calibrated_until(payload))
    return {quantity: tuple(of.values()) for quantity, of in found.items()}
