"""What the page of coats says: which coat it is, what to do about the last one, when the next may go on."""

from datetime import datetime, timedelta, tzinfo

from django.utils.translation import gettext as _

from tooling.calc.ahead import Ahead
from tooling.words.counting import capital, coats, coats_of_sealer
from tooling.words.when import clock_or_when, lasting


def heading(plan: Ahead | None) -> str:
    """Coat 2 of 3; how many are wanted before the first; else just what the page is about."""
    if plan is None or not plan.wanted:
        return _("Coats")
    if plan.on:
        return _("Coat %(on)d of %(wanted)d") % {"on": plan.on, "wanted": plan.wanted}
    return capital(_("%(coats)s wanted") % {"coats": coats(plan.wanted)})


def button(plan: Ahead | None) -> str:
    """The coat that goes on next, by its number where it is one of several."""
    if plan is None or not plan.missing:
        return _("One more coat on")
    if plan.sealers:
        return capital(_("%(sealer)s on") % {"sealer": coats_of_sealer(1)})
    if plan.wanted == 1:
        return _("Coat on")
    return _("Coat %(number)d on") % {"number": plan.on + 1}


def last_coat(family: str, number: int, minutes: float, since: datetime, now: datetime, zone: tzinfo) -> str:
    """What to do about the coat that went on last. Only a finger says that wax has hazed, never a clock."""
    if family != "paste_wax" and not minutes:
        return _("Coat %(number)d is on") % {"number": number}
    from_then = since + timedelta(minutes=minutes)
    if not minutes:
        return _("Hazed? Finger test")
    if now < from_then:
        return _("Wipe from %(time)s: finger test first") % {"time": clock_or_when(from_then, now, zone)}
    if family != "paste_wax":
        return _("Wipe now: finger test")
    return _("Should have hazed by now: finger test")


def dries(minutes: float, now: datetime, zone: tzinfo) -> str:
    """When a film that goes on now can be laid up on."""
    ready = now + timedelta(minutes=minutes)
    return _("Goes on now: dry at %(time)s, after %(long)s.") % {
        "time": clock_or_when(ready, now, zone),
        "long": lasting(timedelta(minutes=minutes)),
    }


def off_in(now: datetime, then: datetime) -> str:
    """in 44 minutes"""
    return _("in %(long)s") % {"long": lasting(then - now)}
