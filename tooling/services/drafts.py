"""An entry that is about to be written, put together from what a deed says."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from hashlib import sha256
from typing import Any

from django.db.models import Model

from tooling.models import Entry, Tool

IN_COLUMNS = frozenset(
    {"count", "area", "came_off", "film", "part", "serial", "release_system", "earliest_pull", "mold"}
)
IN_PAYLOAD = frozenset({
    "passed", "surface", "tool_damaged", "part_damaged", "cause", "fault", "reason", "prepared", "pulls_since_coat",
    "touch_ups", "total_pulls", "lot", "place", "home", "seen", "person", "until", "minutes", "value", "quantity",
    "unit", "instrument", "step", "note", "evidence", "why", "inserts_back", "for_lead", "against", "revision",
    "cutter", "outcome", "metres", "gauge", "points", "limit_mm", "calibrated_until", "counted", "work",
    "material", "grit", "checklist", "answers", "defects", "method", "spot", "geometry", "standard", "design_ref",
    "design_revision",
})  # fmt: skip
_LEFT = "left alone"
_ONE_UNLESS_SAID = frozenset({"pull", "coat", "sealer", "used"})
# "no" is an answer here, not an empty field
_FALSE_SPEAKS = frozenset({"passed", "home", "seen", "part_damaged", "tool_damaged", "inserts_back"})


@dataclass(frozen=True)
class LeftAlone:
    """A fact that a form leaves to what stands when it is written. The form says the same however often it comes.

    said: what the form says of it besides, which counts where nothing stands.
    """

    found: Callable[[Tool], Any]
    said: str = ""


def filled_in(tool: Tool, said: Mapping[str, Any]) -> dict[str, Any]:
    """What was said, with what was left alone as it stands now: asked under the locks."""
    return {name: value.found(tool) if isinstance(value, LeftAlone) else value for name, value in said.items()}


def draft(tool: Tool, kind: str, said: Mapping[str, Any]) -> Entry:
    """An unsaved entry with what was said in its columns and payload; empty answers are left out.

    Raises KeyError for a name that no entry has: a slip of the caller, not of a person.
    """
    unknown = said.keys() - IN_COLUMNS - IN_PAYLOAD
    if unknown:
        raise KeyError(f"an entry has no {', '.join(sorted(unknown))}")
    columns = {name: said[name] for name in IN_COLUMNS & said.keys() if said[name] not in (None, "")}
    payload = {name: _plain(said[name]) for name in sorted(IN_PAYLOAD & said.keys()) if _speaks(name, said[name])}
    if kind in _ONE_UNLESS_SAID:
        columns.setdefault("count", 1)
    return Entry(tool=tool, kind=kind, payload=payload, **columns)


def fingerprint(tool: Tool, kind: str, at: datetime | None, said: Mapping[str, Any]) -> str:
    """What was asked, as 16 hex digits: the same form sent twice asks the same, whenever it arrives."""
    asked = [tool.pk, kind, at, {name: said[name] for name in sorted(said) if _says(said[name])}]
    return sha256(json.dumps(asked, default=_in_text, sort_keys=True).encode()).hexdigest()[:16]


def _speaks(name: str, value: Any) -> bool:
    return _says(value) or (value is False and name in _FALSE_SPEAKS)


def _says(value: Any) -> bool:
    """0 says something; it equals False all the same."""
    return not (value is None or value is False or value == "")


def _plain(value: Any) -> Any:
    if isinstance(value, Model):
        return value.pk
    if isinstance(value, Decimal | float):
        return f"{Decimal(str(value)):f}"
    return value.isoformat() if hasattr(value, "isoformat") else value


def _in_text(value: Any) -> str:
    if isinstance(value, LeftAlone):
        return f"{_LEFT} {value.said}".strip()
    return str(value.pk if isinstance(value, Model) else value)
