"""A whole look at a tool: what was gone through and said of it, and what was measured meanwhile, or nothing of it."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Unpack
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared.errors import TokenReused
from tooling.models import Entry, Tool
from tooling.services.deeds.base import Said
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.notes import take_reading
from tooling.services.deeds.standing import inspect
from tooling.services.deeds.undo import sent_before


@dataclass(frozen=True, slots=True)
class Measured:
    """One value at one spot, with its unit; with what it was measured, and until when that is calibrated."""

    quantity: str
    value: Decimal
    unit: str
    geometry: str = ""
    standard: str = ""
    spot: str = ""
    instrument: str = ""
    calibrated_until: date | None = None
    minutes: Decimal | None = None


def look(
    tool: Tool,
    *,
    passed: bool,
    checklist: int | None = None,
    answers: str = "",
    readings: Sequence[Measured] = (),
    defects: str = "",
    to_free: bool = False,
    **said: Unpack[Said],
) -> Entry:
    """Somebody looked: passed frees the tool of every hold, not passed holds it. Returns the entry of the look.
    What is said of it besides the readings is that of `inspect`.

    Order: the locks; the look; each reading as an entry of its own, at the very moment of the look, by the same hands.
    The same form again gets its first answers.
    """

    def write() -> list[Entry]:
        was_sent = sent_before(said.get("token"))
        about: dict[str, Any] = {"checklist": checklist, "answers": answers, "defects": defects}
        entry = inspect(tool, passed=passed, to_free=to_free, **about, **said)
        measure_with(entry, readings, was_sent=was_sent)
        return [entry]

    (entry,) = all_or_none([tool], write)
    return entry


def measure_with(entry: Entry, readings: Sequence[Measured], *, was_sent: bool) -> list[Entry]:
    """What was measured with what an entry says: each value an entry, at its moment and by its hands.

    was_sent: the form was written before; then so were its readings, and no other ones come of it. Call it where the
    entry was written, in the same transaction.
    """
    tokens = [_token(entry.token, number) for number in range(len(readings) + 1)]
    written = [token is not None and sent_before(token) for token in tokens]
    if was_sent and written != [True] * len(readings) + [False]:
        raise TokenReused(
            _("This form was sent before, with something else in it. That was written. Open the page anew to add this.")
        )
    who: dict[str, Any] = {"by": entry.by, "recorded_by": entry.recorded_by, "at": entry.at}
    return [
        take_reading(entry.tool, token=token, **asdict(one), **who)
        for one, token in zip(readings, tokens[:-1], strict=True)
    ]


def _token(token: UUID | None, number: int) -> UUID | None:
    return uuid5(token, f"reading {number}") if token is not None else None
