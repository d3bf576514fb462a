"""How a half of a matched set came off, said after the part was written as off it."""

from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from shared import clock
from shared.access import can_lead
from shared.errors import Refused
from tooling.models import Entry, Person
from tooling.services.deeds.undo import correct, gone, sent_before
from tooling.services.deeds.unseen import hold_if_unseen

# As long as a hand remembers how it came off.
SAID_WITHIN = timedelta(hours=24)


def may_say_how(pull: Entry, person: Person) -> bool:
    """Any hand within a day of the writing; a lead later as well."""
    return can_lead(person) or clock.now() - pull.recorded_at <= SAID_WITHIN


@transaction.atomic
def say_how(pull: Entry, *, came_off: str, recorded_by: Person, token: UUID | None = None) -> Entry:
    """The same pull stands again, with how it came off. Stuck or lost it holds the tool, until somebody has looked."""
    if not sent_before(token):
        if not may_say_how(pull, recorded_by):
            raise Refused(_("That can be said for a day after the pull was written. Ask a lead to say it."))
        if pull.came_off or gone(pull):
            raise Refused(_("This pull was put right by now: open the tool anew. A lead can correct it."))
    reason, changes = _("how it came off was said later"), {"came_off": came_off}
    new = correct(pull, reason=reason, changes=changes, recorded_by=recorded_by, token=token)
    hold_if_unseen(new, recorded_by)
    return new
