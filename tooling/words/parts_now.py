"""When a part of a list can be laid up, in a few words: now, from 12:51, not now and why."""

from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.usable import AGAINST
from tooling.words.when import clock_or_when, whole_minute


def stands(found: Any, now: datetime, zone: tzinfo) -> str:
    """The whole is on the part's page; "" for a part without a set."""
    if found is None:
        return ""
    if found.cannot is not None:
        why = AGAINST.get(found.cannot.code)
        return _("Not now: %(why)s.") % {"why": why} if why else _("No time can be said.")
    if found.now:
        return _("Can be laid up now.")
    return _("Can be laid up from %(time)s.") % {"time": clock_or_when(whole_minute(found.lay_up_at), now, zone)}
