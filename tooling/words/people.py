"""People as their pages say them: what each role may do, how somebody comes in, and why a link does not work."""

from datetime import datetime, tzinfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tooling.words.when import long_day, when

# Of every role, and of none, what it is for.
ROLES = {
    "lead": gettext_lazy("lead: does everything"),
    "hand": gettext_lazy("hand: logs deeds"),
    "reader": gettext_lazy("reader: looks, and changes nothing"),
    "station": gettext_lazy("station: a tablet that several hands share"),
    "": gettext_lazy("none: only a name in histories, no way in"),
}


def way_in(way: str, is_station: bool, until: datetime | None, now: datetime, zone: tzinfo) -> str:
    """How somebody comes in, in a line."""
    if way == "invited" and until is not None:
        text = _("The link waits at its tablet until %(time)s.") if is_station else _("Invited, until %(time)s.")
        return text % {"time": when(until, now, zone)}
    return {
        "in": _("Signed in at its tablet.") if is_station else _("Signs in."),
        "not_yet": _("No way in yet: make a link."),
        "off": _("Switched off."),
    }.get(way, "")


def ended(why: str, used_at: datetime | None, now: datetime, zone: tzinfo) -> tuple[str, str]:
    """Why a link lets nobody in, and what to do."""
    ask = _("Ask the shop lead for a new one.")
    if why == "used" and used_at is not None:
        head = _("This link was used already, on %(day)s.") % {"day": long_day(used_at, now, zone)}
        return head, _("If that was you, sign in with your name and your password. If not, tell the shop lead.")
    if why == "too_old":
        return _("This link has run out."), ask
    if why == "withdrawn":
        return _("This link was taken back, or a newer one was made."), ask
    return _("There is no such link."), _(
        "Look whether all of it was copied. If it was, ask the shop lead for another."
    )
