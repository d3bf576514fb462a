"""A part is taken off at the mold: one pull for one part, however many hands write it at once."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from shared.errors import AskFirst
from tooling.models import Entry, Summary, Tool
from tooling.selectors.twice import written_before
from tooling.services.deeds.matched import on_all
from tooling.services.deeds.unseen import hold_until_looked, wants_look
from tooling.services.deeds.uses import log_pull
from tooling.services.ledger import Unless
from tooling.services.trying import together


class PulledMeanwhile(AskFirst):
    """Somebody wrote a pull a moment ago; `before` is that pull."""

    def __init__(self, before: Entry) -> None:
        super().__init__(_("Somebody wrote a pull here a moment ago. Is it the same part?"))
        self.before = before


def take_off(tool: Tool, *, lay_up: int | None, another: bool = False, **said: Any) -> Entry:
    """A pull as `log_pull` takes it, and the hold that goes with it where nobody has looked whether the tool is marked.

    lay_up: the entry of the lay-up that was in it when it was asked; None where nothing was. another: it is another
    part than the one whose pull was written a moment ago. Raises PulledMeanwhile, asked under the locks.
    """
    with together():
        pull = log_pull(tool, unless=None if another else _unless_pulled(lay_up), **said)
        if wants_look(pull) and (pull.pk is None or not (pull.replaced_by.exists() or pull.voided_by.exists())):
            hold_until_looked(pull, said.get("recorded_by"))
    return pull


def take_off_set(halves: Sequence[tuple[Tool, int | None]], *, came_off: str = "", **about: Any) -> list[Entry]:
    """One part comes off several halves of a matched set, or of one mold by itself: a pull on each, or on none.

    halves: each with the entry of the lay-up that was in it. came_off: how it came off the first; of the others that is
    asked afterwards, and their pulls count without it. What else is said is the same on all.
    """

    def alone(tool: Tool, lay_up: int | None) -> dict[str, Any]:
        return {"lay_up": lay_up, "came_off": came_off if tool == halves[0][0] else ""}

    said = [(tool, alone(tool, lay_up)) for tool, lay_up in halves]
    return on_all(said, take_off, about)


def _unless_pulled(lay_up: int | None) -> Unless:
    def unless(summary: Summary, now: datetime) -> None:
        before = written_before(summary, lay_up, now)
        if before is not None:
            raise PulledMeanwhile(before)

    return unless
