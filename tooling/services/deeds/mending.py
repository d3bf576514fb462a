"""Work that mends a surface, with what was measured on it afterwards: all of it or nothing."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from tooling.models import Entry, Tool
from tooling.services.deeds.measured_with import measure_with
from tooling.services.deeds.surface import polish, repair, resurface
from tooling.services.deeds.undo import sent_before
from tooling.services.trying import together

_WRITTEN: dict[str, Callable[..., Entry]] = {"repair": repair, "polish": polish, "resurfaced": resurface}


def mend(tool: Tool, *, kind: str, readings: Sequence[Mapping[str, Any]] = (), **said: Any) -> Entry:
    """Writes a repair, a polish or a resurfacing with the defects that it closes, then what was measured after it.

    The readings are of its moment, and of the surface as it is since. Returns the entry of the work.
    """
    with together():
        was_sent = sent_before(said.get("token"))
        entry = _WRITTEN[kind](tool, **said)
        measure_with(entry, readings, was_sent=was_sent)
    return entry
