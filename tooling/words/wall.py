"""A row of the wall in words: what comes next as one or two short sentences, to be read from across the shop."""

from typing import Any

from django.utils.translation import gettext as _

from tooling.words import coats
from tooling.words.lines import Around, lift, said_of
from tooling.words.look_first import look_first
from tooling.words.when import clock_or_when, whole_minute


def next_words(one: Any, around: Around) -> str:
    """What comes next, and where it is about to be used whether somebody is to look it over first."""
    words = _next_words(one, around)
    if one.row.summary.laid_up_at is not None or one.row.status.status == "held":
        return words
    return " ".join(filter(None, (words, look_first(one.row, around.now.astimezone(around.zone).date()))))


def _next_words(one: Any, around: Around) -> str:
    """Of coats that are going on the next and its time; else the sentence that every list has."""
    if one.going_on and not one.coats.sealers:
        return _coats_words(one, around)
    said = said_of(one.row, around)
    words = said.whole if said is not None else ""
    if one.row.status.status == "part_in_mold" and one.is_due:
        return " ".join(filter(None, (words, lift(one.row.tool))))
    if one.coats is not None and one.coats.next_at is not None:
        at = clock_or_when(one.coats.next_at, around.now, around.zone)
        return " ".join((words, _("Not before %(time)s.") % {"time": at}))
    return words


def _coats_words(one: Any, around: Around) -> str:
    plan, number = one.coats, one.coats.on + 1
    on = _(" on %(code)s") % {"code": one.row.on} if one.row.on else ""
    if plan.next_at is None:
        deciding = one.row.deciding
        wiping = coats.last_coat(
            deciding.family, plan.on, float(deciding.recipe.wipe_minutes), plan.last_at, around.now, around.zone
        )
        return _("%(wiping)s. Coat %(number)d%(on)s now.") % {"wiping": wiping, "number": number, "on": on}
    said = {"number": number, "on": on, "time": clock_or_when(plan.next_at, around.now, around.zone)}
    ready = one.row.ready_if_started(around.now)
    if ready is None:
        return _("Coat %(number)d%(on)s at %(time)s.") % said
    said["ready"] = clock_or_when(whole_minute(ready), around.now, around.zone)
    return _("Coat %(number)d%(on)s at %(time)s, then lay-up at %(ready)s.") % said
