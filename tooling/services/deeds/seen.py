"""What is seen of a pull when it has just been written."""

from typing import Any
from uuid import UUID, uuid5

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Person
from tooling.services.deeds.standing import hold
from tooling.services.deeds.undo import correct, facts_of, may_rub_out, sent_before


@transaction.atomic
def add_to_pull(
    pull: Entry, *, recorded_by: Person, changes: dict[str, Any], not_looked: bool = False, token: UUID | None = None
) -> Entry:
    """Whoever wrote a pull a moment ago says more of it: the same pull stands again, with what was seen.

    Where nobody has looked yet whether the tool is marked, the tool is held instead: the record must not say that it
    is. Nothing is written where nothing new is said. Returns what was written last, else the pull.
    """
    on_hold = uuid5(token, "hold") if token else None
    if not may_rub_out(pull, recorded_by) and not sent_before(token, on_hold):
        raise Refused(_("More can be said of a pull for five minutes after writing. A lead can correct it."))
    new = {name: value for name, value in changes.items() if not _same(facts_of(pull).get(name), value)}
    if new:
        reason = _("tapped wrong") if "came_off" in new else _("seen when it was off")
        pull = correct(pull, reason=reason, changes=new, recorded_by=recorded_by, token=token)
    if not not_looked:
        return pull
    return hold(
        pull.tool,
        reason=_("a part came off hard, and nobody has looked yet whether the tool is marked"),
        by=pull.by,
        recorded_by=recorded_by,
        token=on_hold,
    )


def _same(old: Any, new: Any) -> bool:
    """An empty answer is none, whatever kind of empty; but no is an answer."""
    return old == new or (old in (None, "") and new in (None, ""))
