"""What to do first, on the sheet of a tool set: work in the order of time, what the times hold for, what comes last."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from typing import Any

from django.utils.translation import gettext as _

from tooling.words.counting import capital
from tooling.words.time_bar import rows
from tooling.words.when import clock, on_paper, whole_minute


@dataclass(frozen=True, slots=True)
class StepSaid:
    """Work of the hands: from when to when, what, on which surface, and how long it then waits at least."""

    when: str
    what: str
    on: str
    then: str


def steps(of: Any) -> Iterator[StepSaid]:
    """What the time bar shows, in the order of time."""
    zone, first = of.shop.zone, {of.found.at, of.found.starts_at}
    for row in sorted(rows(of.found), key=lambda row: (row.begins, row.ends)):
        until = "" if row.waits_until is None else _wait(row.ends, row.waits_until, zone)
        # The first work begins in the minute that has begun, as the sentence has it; no other before its wait ends.
        begins = row.begins.replace(second=0) if row.begins in first else whole_minute(row.begins)
        when, what = _span(begins, whole_minute(row.ends), zone), capital(row.what)
        if row.inside:
            when, what = _("not before %(time)s") % {"time": on_paper(whole_minute(row.ends), zone)}, _("A part in it")
        yield StepSaid(when, what, row.surface, until)


def notes(of: Any) -> Iterator[str]:
    """What the times hold for: read later they are past, and none of them is the supplier's."""
    found, zone = of.found, of.shop.zone
    if found.cannot is not None or not found.works:
        return
    if found.starts_at is not None:
        start = {"start": on_paper(found.starts_at.replace(second=0), zone)}
        if found.wanted is not None:
            yield _("Start by %(start)s at the latest: nothing is left over.") % start
        else:
            yield (
                _("True only if work begins %(start)s. Begun later, all moves: count the minutes from your own coat.")
                % start
            )
    if any(one.steps or one.ready_from for one in found.works):
        yield _("Minutes are those of the shop’s recipe: the supplier’s data sheet goes before.")


def before(of: Any) -> Iterator[str]:
    """What has to come out of another mold before all else."""
    for one in of.put_in:
        if one.out_of:
            yield _("First: take %(insert)s out of %(mold)s.") % {"insert": one.insert, "mold": one.out_of}


def last(of: Any) -> Iterator[str]:
    """What goes in when all is done: solvent in the mold would take the wax off that too."""
    for one in of.put_in:
        said = {"insert": one.insert, "mold": one.mold}
        if one.waits:
            yield _("Last: put %(insert)s into %(mold)s, when it and %(mold)s are through their waits.") % said
        else:
            yield _("Last: put %(insert)s into %(mold)s.") % said


def _span(begins: datetime, ends: datetime, zone: tzinfo) -> str:
    """12 May 2026, 07:40 to 07:55, with the second date where that is another."""
    said = {"from": on_paper(begins, zone), "to": _within(ends, begins, zone)}
    return _("%(from)s to %(to)s") % said


def _wait(ends: datetime, until: datetime, zone: tzinfo) -> str:
    """60 min (till 13:52); no minute less than there is to wait."""
    minutes = -((ends - until) // timedelta(minutes=1))
    hours, rest = divmod(minutes, 60)
    if minutes <= 120:
        long = _("%(n)d min") % {"n": minutes}
    elif rest:
        long = _("%(hours)d h %(minutes)d min") % {"hours": hours, "minutes": rest}
    else:
        long = _("%(hours)d h") % {"hours": hours}
    return _("%(long)s (till %(time)s)") % {
        "long": long,
        "time": _within(whole_minute(until), whole_minute(ends), zone),
    }


def _within(at: datetime, after: datetime, zone: tzinfo) -> str:
    """The clock where it is the same day."""
    same = at.astimezone(zone).date() == after.astimezone(zone).date()
    return clock(at, zone) if same else on_paper(at, zone)
