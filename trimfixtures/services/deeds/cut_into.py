"""What a cut that gouged, or that slipped, went into, and what becomes of the part."""

from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.calc.entry import SPOILING
from tooling.models import Entry, Person
from tooling.services.deeds.undo import correct, sent_before

# By the word that is tapped. Of a lost part nobody says here whether the trim mask was cut into as well.
_MEANS: dict[str, dict[str, Any]] = {
    "part": {"part_damaged": True, "tool_damaged": False, "passed": None},
    "trim_mask": {"part_damaged": False, "tool_damaged": True, "passed": None},
    "both": {"part_damaged": True, "tool_damaged": True, "passed": None},
    "lost": {"part_damaged": True, "passed": False},
}


def say_cut_into(cut: Entry, into: str, *, by: Person | None, recorded_by: Person, token: UUID | None = None) -> Entry:
    """The same cut stands again, with what is said of it; time and hands stay its own. It frees nothing.

    Any hand may say it, whenever it is known. Nothing is written where nothing new is said.
    """
    if cut.payload.get("outcome") not in SPOILING:
        raise Refused(_("This cut spoiled nothing."))
    changes = _MEANS[into]
    if said_of(cut) == into and not sent_before(token):
        return cut
    reason = _("what it was cut into is said")
    if by is not None and by != cut.by:
        reason = _("%(reason)s, by %(who)s") % {"reason": reason, "who": by}
    return correct(cut, reason=reason, changes=changes, recorded_by=recorded_by, token=token)


def said_of(cut: Entry) -> str:
    """What was said of it: the word that was tapped; "" where nobody said."""
    said = cut.payload
    part, mask = said.get("part_damaged"), said.get("tool_damaged")
    if part and said.get("passed") is False:
        return "lost"
    return "both" if part and mask else "part" if part else "trim_mask" if mask else ""
