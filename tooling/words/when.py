"""Times as a person says them, in the shop's zone: today 16:10, Mon 16:50, 6 May."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date, datetime, timedelta, tzinfo
from typing import NamedTuple

from django.utils.dateformat import format as in_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

CLOCK = "H:i"
NEAR_DAYS = 6  # within these a weekday names a day; beyond, its date does


_on_paper: ContextVar[bool] = ContextVar("times are said with their date", default=False)


@contextmanager
def with_dates() -> Iterator[None]:
    """Inside, every time and day of a sentence is said with its date: it goes on paper, read nobody knows when."""
    before = _on_paper.set(True)
    try:
        yield
    finally:
        _on_paper.reset(before)


class Figure(NamedTuple):
    """A time as the key figure of a row: the part that is read from afar, and the rest."""

    big: str
    small: str


def clock(at: datetime, zone: tzinfo) -> str:
    """16:10"""
    return in_format(at.astimezone(zone), CLOCK)


def day(of: date, today: date) -> str:
    """today, yesterday, tomorrow; Mon for a near one; 6 May in this year, else 6 May 2024."""
    if _on_paper.get():
        return in_format(of, _("j M Y"))
    away = (of - today).days
    named = {0: _("today"), -1: _("yesterday"), 1: _("tomorrow")}
    if away in named:
        return named[away]
    return in_format(of, _day_format(of, today))


def whole_day(of: date, today: date) -> str:
    """today, yesterday, tomorrow; Friday for a near one; 6 May in this year, else 6 May 2024: in a sentence."""
    near = 1 < abs((of - today).days) <= NEAR_DAYS and not _on_paper.get()
    return in_format(of, "l") if near else day(of, today)


def plain_day(of: date) -> str:
    """6 May 2024: where nobody knows on which day it is read."""
    return in_format(of, _("j M Y"))


def when(at: datetime, now: datetime, zone: tzinfo) -> str:
    """today 16:10, yesterday 15:30, Mon 16:50; far away the date alone: 6 May."""
    if _on_paper.get():
        return on_paper(at, zone)
    local, today = at.astimezone(zone), now.astimezone(zone).date()
    said = day(local.date(), today)
    return f"{said} {clock(at, zone)}" if abs((local.date() - today).days) <= NEAR_DAYS else said


def clock_or_when(at: datetime, now: datetime, zone: tzinfo) -> str:
    """16:10 where it is today, else its day and the clock: for a sentence in which today goes without saying."""
    if _on_paper.get():
        return on_paper(at, zone)
    local, today = at.astimezone(zone).date(), now.astimezone(zone).date()
    return clock(at, zone) if local == today else f"{day(local, today)} {clock(at, zone)}"


def moment(at: datetime, now: datetime, zone: tzinfo) -> str:
    """Mon 11 May 15:05, and with its year where that is another: a line of the history."""
    local = at.astimezone(zone)
    this_year = local.year == now.astimezone(zone).year and not _on_paper.get()
    return in_format(local, _("D j M H:i") if this_year else _("D j M Y H:i"))


def long_day(at: datetime, now: datetime, zone: tzinfo) -> str:
    """3 March, and with its year where that is another."""
    local = at.astimezone(zone)
    this_year = local.year == now.astimezone(zone).year and not _on_paper.get()
    return in_format(local, _("j F") if this_year else _("j F Y"))


def morning(at: datetime, zone: tzinfo) -> str:
    """Tuesday 12 May, 07:40"""
    return in_format(at.astimezone(zone), _("l j F, H:i"))


def dated(at: datetime, zone: tzinfo) -> str:
    """2026-05-12 16:10: for what is kept, where today means nothing."""
    return in_format(at.astimezone(zone), "Y-m-d H:i")


def on_paper(at: datetime, zone: tzinfo) -> str:
    """12 May 2026, 16:10: on a sheet that hangs on a wall."""
    return in_format(at.astimezone(zone), _("j M Y, H:i"))


def whole_minute(at: datetime) -> datetime:
    """The minute that has come when the moment has: as near as anybody waxes; the rest only flickers."""
    return (at + timedelta(seconds=59)).replace(second=0, microsecond=0)


def figure(at: datetime, now: datetime, zone: tzinfo) -> Figure:
    """The clock where it is today; else the day, and the clock beside it where it is near: a row has little room."""
    local, today = at.astimezone(zone), now.astimezone(zone).date()
    away = (local.date() - today).days
    if away == 0:
        return Figure(clock(at, zone), "")
    if abs(away) <= NEAR_DAYS:
        return Figure(in_format(local, "D"), clock(at, zone))
    return Figure(in_format(local, _("j M") if local.year == today.year else _("j M Y")), "")


def day_figure(of: date, today: date) -> str:
    """Fri for a near day, else 6 May: the part of a row that is read from afar."""
    if abs((of - today).days) <= NEAR_DAYS:
        return in_format(of, "D")
    return in_format(of, _("j M") if of.year == today.year else _("j M Y"))


def lasting(time: timedelta) -> str:
    """44 minutes, 4 hours, 4 h 30 min, 3 days: how long something takes or has to wait."""
    minutes = max(0, round(time.total_seconds() / 60))
    if minutes < 60:
        return ngettext("%(n)d minute", "%(n)d minutes", minutes) % {"n": minutes}
    if minutes >= 48 * 60:
        return ngettext("%(n)d day", "%(n)d days", minutes // 1440) % {"n": minutes // 1440}
    hours, rest = divmod(minutes, 60)
    if rest:
        return _("%(hours)d h %(minutes)d min") % {"hours": hours, "minutes": rest}
    return ngettext("%(n)d hour", "%(n)d hours", hours) % {"n": hours}


def minutes_left(until: datetime, now: datetime) -> int:
    """For how many more minutes something is offered, the one that has begun among them."""
    return max(1, -(-(until - now) // timedelta(minutes=1)))


def _day_format(of: date, today: date) -> str:
    if abs((of - today).days) <= NEAR_DAYS:
        return "D"
    return _("j F") if of.year == today.year else _("j F Y")
