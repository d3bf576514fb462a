"""How far a wanted part is, and for when it is wanted, in words."""

from datetime import datetime, tzinfo
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.when import clock_or_when, day


def far(progress: Any, now: datetime, zone: tzinfo) -> str:
    """1 of 2 laid up; "" where nothing is yet."""
    said = {"pulled": progress.pulled, "laid_up": progress.laid_up, "count": progress.count}
    if progress.done_at is not None:
        return _("Laid up and pulled, %(when)s.") % {"when": clock_or_when(progress.done_at, now, zone)}
    if not progress.laid_up:
        return ""
    if not progress.pulled:
        return _("%(laid_up)s of %(count)s laid up.") % said
    said["inside"] = progress.laid_up - progress.pulled
    if not said["inside"]:
        return _("%(pulled)s of %(count)s pulled.") % said
    return _("%(pulled)s of %(count)s pulled, %(inside)s more laid up.") % said


def for_day(row: Any, now: datetime, zone: tzinfo) -> str:
    """For Thu; "" where it is for every day, or for this one."""
    today = now.astimezone(zone).date()
    if row.day is None or row.day == today:
        return ""
    if row.day < today:
        return _("wanted since %(day)s") % {"day": day(row.day, today)}
    return _("for %(day)s") % {"day": day(row.day, today)}
