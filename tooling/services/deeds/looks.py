"""A whole look at a tool: what was gone through and said of it, and what was measured meanwhile, or nothing of it."""

from collections.abc import Mapping, Sequence
from typing import Any, Unpack

from tooling.models import Entry, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.measured_with import measure_with
from tooling.services.deeds.standing import inspect
from tooling.services.deeds.undo import sent_before

Readings = Sequence[Mapping[str, Any]]


def look(
    tool: Tool,
    *,
    passed: bool,
    checklist: int | None = None,
    answers: str = "",
    readings: Readings = (),
    defects: Defects = "",
    to_free: bool = False,
    **said: Unpack[Said],
) -> Entry:
    """Somebody looked: passed frees the tool of every hold, not passed holds it. Returns the entry of the look.

    Order: the locks; the look, as `inspect` writes it; each reading as `take_reading` takes it, at the very moment of
    the look and by the same hands. The same form again gets its first answers.
    """

    def write() -> list[Entry]:
        was_sent = sent_before(said.get("token"))
        about: dict[str, Any] = {"checklist": checklist, "answers": answers, "defects": defects, "to_free": to_free}
        entry = inspect(tool, passed=passed, **about, **said)
        measure_with(entry, readings, was_sent=was_sent)
        return [entry]

    (entry,) = all_or_none([tool], write)
    return entry
