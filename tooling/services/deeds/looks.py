"""A whole look at a tool: what was gone through and said of it, and what was measured meanwhile, or nothing of it."""

from collections.abc import Mapping, Sequence
from typing import Any, Unpack
from uuid import uuid5

from django.utils.translation import gettext as _

from shared.errors import TokenReused
from tooling.models import Entry, Tool
from tooling.services.deeds.base import Defects, Said
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.notes import take_readings
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

    Order: the locks; the look, as `inspect` writes it; each reading as `take_readings` takes it, at the very moment of
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


def measure_with(entry: Entry, readings: Readings, *, was_sent: bool) -> list[Entry]:
    """What was measured with what an entry says: each value an entry, at its moment and by its hands.

    was_sent: the form was written before; then so were its readings, and no other ones come of it. Call it where the
    entry was written, in the same transaction.
    """
    if not readings:
        return []
    token = uuid5(entry.token, f"{len(readings)} readings") if entry.token is not None else None
    if was_sent and not sent_before(token):
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    who: Said = {"by": entry.by, "recorded_by": entry.recorded_by, "at": entry.at, "token": token}
    return take_readings(entry.tool, readings=readings, **who)
