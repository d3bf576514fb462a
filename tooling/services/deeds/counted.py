"""Whether the mold inserts are back after a pull, and which are not."""

from collections.abc import Collection, Mapping
from datetime import timedelta
from uuid import UUID, uuid5

from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Person, Tool
from tooling.selectors.inserts_back import JUST_AFTER, missing_after
from tooling.services.deeds.inserts import remove
from tooling.services.deeds.undo import correct, rub_out, sent_before

# As long as somebody may still be looking for one.
COUNTED_WITHIN = timedelta(hours=24)


def count_inserts(pull: Entry, *, back: bool, recorded_by: Person, token: UUID | None = None) -> Entry:
    """Whether all inserts are back, said later on the day by whoever looked: the same pull stands again with it."""
    if clock.now() - pull.recorded_at > COUNTED_WITHIN and not sent_before(token):
        raise Refused(_("That can be said for a day after the pull was written. A lead can correct it."))
    if pull.payload.get("inserts_back") is back:
        return pull
    reason, changes = _("the inserts were counted"), {"inserts_back": back}
    return correct(pull, reason=reason, changes=changes, recorded_by=recorded_by, token=token)


def place_inserts(
    pull: Entry,
    *,
    stuck: Mapping[Tool, str],
    gone: Collection[Tool],
    back: Collection[Tool],
    by: Person | None,
    recorded_by: Person,
    token: UUID,
) -> None:
    """What is not back is removed just after the pull: what stuck in the part with the part's serial number.

    What was written as missing a moment ago and is back after all is rubbed out. Each is a deed of its own, so that no
    mold is locked after an insert; sent again, those that were written stand.
    """
    written = {entry.tool_id: entry for entry in missing_after(pull)}
    in_part, nowhere = _("stuck in the part"), _("not found when the part was off")
    wanted = {**{one: (serial, in_part) for one, serial in stuck.items()}, **dict.fromkeys(gone, ("", nowhere))}
    for one in (*back, *wanted):
        old = written.get(one.pk)
        if old is not None and wanted.get(one) != (old.serial, old.payload.get("note")):
            rub_out(old, recorded_by=recorded_by)
            del written[one.pk]
    for one, (serial, note) in wanted.items():
        if one.pk not in written:
            at, own = pull.at + JUST_AFTER, uuid5(token, str(one.pk))
            remove(one, serial=serial, note=note, at=at, by=by, recorded_by=recorded_by, token=own)
