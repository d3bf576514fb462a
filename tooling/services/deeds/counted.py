"""Whether the mold inserts are back after a pull, and which are not."""

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid5

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shared import clock
from shared.errors import Refused
from tooling.models import Entry, Person, Tool
from tooling.selectors.inserts_back import JUST_AFTER, missing_after
from tooling.services.deeds.inserts import install, remove
from tooling.services.deeds.matched import all_or_none
from tooling.services.deeds.seen import add_to_pull
from tooling.services.deeds.undo import correct, may_rub_out, rub_out, sent_before

# As long as somebody may still be looking for one.
COUNTED_WITHIN = timedelta(hours=24)
_COUNTED = gettext_lazy("the inserts were counted")


def count_inserts(
    pull: Entry,
    *,
    is_back: bool,
    stuck: Mapping[Tool, str],
    gone: Collection[Tool],
    back: Collection[Tool],
    by: Person | None,
    recorded_by: Person,
    token: UUID,
) -> Entry:
    """Whether all inserts are back, said later on the day by whoever looked: the same pull stands again with it.

    Where each one is is written with it as in `place_inserts`, all of it or nothing.
    """
    if clock.now() - pull.recorded_at > COUNTED_WITHIN and not sent_before(token):
        raise Refused(_("That can be said for a day after the pull was written. A lead can correct it."))

    def write() -> list[Entry]:
        place_inserts(pull, stuck=stuck, gone=gone, back=back, by=by, recorded_by=recorded_by, token=token)
        if pull.payload.get("inserts_back") is is_back:
            return [pull]
        changes = {"inserts_back": is_back}
        return [correct(pull, reason=str(_COUNTED), changes=changes, recorded_by=recorded_by, token=token)]

    return all_or_none([pull.tool, *stuck, *gone, *back], write)[0]


def add_with_inserts(
    pull: Entry,
    *,
    places: Mapping[str, Any] | None,
    by: Person | None,
    recorded_by: Person,
    token: UUID,
    **said: Any,
) -> Entry:
    """What whoever wrote a pull a moment ago says more of it, as `add_to_pull` takes it, and where each insert is.

    places: what `place_inserts` is told of them; None where nothing was said. All of it is written, or nothing.
    """

    def write() -> list[Entry]:
        entry = add_to_pull(pull, by=by, recorded_by=recorded_by, token=token, **said)
        if places is not None:
            place_inserts(pull, **places, by=by, recorded_by=recorded_by, token=token)
        return [entry]

    named = [one for each in (places or {}).values() for one in each]
    return all_or_none([pull.tool, *named], write)[0]


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

    What was written as missing and is back after all is rubbed out, and later than five minutes installed again. What
    is missing otherwise than was written is corrected. Sent again, what was written stands.
    """
    written = {entry.tool_id: entry for entry in missing_after(pull)}
    in_part, nowhere = _("stuck in the part"), _("not found when the part was off")
    wanted = {**{one: (serial, in_part) for one, serial in stuck.items()}, **dict.fromkeys(gone, ("", nowhere))}
    for one in back:
        if one.pk in written:
            _put_back(written[one.pk], pull, by=by, recorded_by=recorded_by, token=uuid5(token, f"back {one.pk}"))
    for one, (serial, note) in wanted.items():
        old, own = written.get(one.pk), uuid5(token, str(one.pk))
        said: dict[str, Any] = {"by": by, "recorded_by": recorded_by, "token": own}
        if old is None:
            remove(one, serial=serial, note=note, at=_since_when(one, pull), **said)
        elif (old.serial, old.payload.get("note")) != (serial, note):
            correct(old, reason=str(_COUNTED), changes={"serial": serial, "note": note}, **said)


def _put_back(removal: Entry, pull: Entry, *, by: Person | None, recorded_by: Person, token: UUID) -> None:
    if may_rub_out(removal, recorded_by):
        rub_out(removal, recorded_by=recorded_by, token=token)
    else:
        # Within the second after the pull it is not gone yet.
        at = max(clock.now(), removal.at)
        install(removal.tool, mold=pull.tool, at=at, by=by, recorded_by=recorded_by, token=token)


def _since_when(insert: Tool, pull: Entry) -> datetime | None:
    """Just after the pull; now, where it was put into the mold since then."""
    since = pull.at + JUST_AFTER
    later = Entry.objects.filter(tool=insert, mold=pull.tool_id, kind="installed", at__gt=since).standing().exists()
    return None if later else since
