"""What is seen of a pull when it has just been written."""

from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Entry, Person
from tooling.services.deeds.undo import correct, facts_of, may_rub_out, sent_before
from tooling.services.deeds.unseen import MARKING, hold_of, hold_until_looked, take_back, wants_look


@transaction.atomic
def add_to_pull(
    pull: Entry,
    *,
    recorded_by: Person,
    changes: dict[str, Any],
    not_looked: bool = False,
    by: Person | None = None,
    token: UUID | None = None,
) -> Entry:
    """Whoever wrote a pull a moment ago says more of it: the same pull stands again, with what was seen.

    The tool is held while nobody has looked whether it is marked: the record must not say that it is. With the answer,
    or another mark, the hold that was written with the pull is void. Nothing is written where nothing new is said.
    by: whose hands say so; the pull's own where nobody is named. Returns the pull that stands.
    """
    new = {name: value for name, value in changes.items() if not _same(facts_of(pull).get(name), value)}
    held = hold_of(pull)
    if not new and (held is not None or not not_looked):
        return pull
    if not may_rub_out(pull, recorded_by) and not sent_before(token):
        raise Refused(_("More can be said of a pull for five minutes after writing. A lead can correct it."))
    if held is not None and not not_looked:
        _settle(held, new, by or pull.by, recorded_by)
    if new:
        reason = _("tapped wrong") if "came_off" in new else _("seen when it was off")
        pull = correct(pull, reason=reason, changes=new, recorded_by=recorded_by, token=token)
    if (not_looked or wants_look(pull)) and hold_of(pull) is None:
        hold_until_looked(pull, recorded_by)
    return pull


def _settle(held: Entry, new: dict[str, Any], by: Person | None, recorded_by: Person) -> None:
    """Takes the hold back where what is new answers it."""
    marked, came_off = new.get("tool_damaged"), new.get("came_off")
    if marked is not None:
        if not may_rub_out(held, recorded_by):
            over = _("The five minutes for it are over: it stays held until somebody has looked at it.")
            raise Refused(over, "looked")
        reason = _("looked at at once: it is marked") if marked else _("looked at at once: it is not marked")
    elif came_off is not None and came_off not in MARKING:
        reason = _("tapped wrong: it came off otherwise")
    else:
        return
    take_back(held, reason=reason, by=by, recorded_by=recorded_by)


def _same(old: Any, new: Any) -> bool:
    """An empty answer is none, whatever kind of empty; but no is an answer."""
    return old == new or (old in (None, "") and new in (None, ""))
