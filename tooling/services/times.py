"""Times as people and scripts write them, in the shop's zone where they name none."""

from datetime import UTC, date, datetime, time, tzinfo

from django.utils.translation import gettext as _

from shared.errors import Refused

# A date alone stands for the middle of its day.
NOON = time(12)
# Within these, with room for every wait and every zone. A year outside them is a slip of typing, in a trade this young.
EARLIEST, LATEST = datetime(1950, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC)


def moment(text: str | None, zone: tzinfo, field: str = "at") -> datetime | None:
    """The instant that an ISO 8601 text means; None for no text. Refused for anything else, and out of bounds."""
    if not text or not text.strip():
        return None
    text = text.strip()
    try:
        if len(text) <= len("2025-12-31"):
            return in_zone(datetime.combine(date.fromisoformat(text), NOON), zone, field)
        return in_zone(datetime.fromisoformat(text), zone, field)
    except (ValueError, OverflowError) as bad:
        message = _("“%(text)s” is no time. Write it as 2026-03-31 14:05.")
        raise Refused(message % {"text": text}, field) from bad


def in_zone(when: datetime, zone: tzinfo, field: str = "at") -> datetime:
    """A time in UTC. Without a zone it is the shop's: one that occurs twice is the first.

    Raises Refused for a local time that the clocks jump over, and out of bounds.
    """
    if not EARLIEST.year - 1 <= when.year <= LATEST.year:  # near the ends of the calendar no zone can be reckoned with
        raise _out_of_bounds(when, field)
    if when.tzinfo is not None:
        return in_bounds(when.astimezone(UTC), field)
    local = when.replace(tzinfo=zone, fold=0)
    instant = local.astimezone(UTC)
    if instant.astimezone(zone).replace(tzinfo=None) != when.replace(fold=0):
        message = _("%(when)s does not exist: the clocks jump over it that night. Write an hour later.")
        raise Refused(message % {"when": when.isoformat(sep=" ", timespec="minutes")}, field)
    return in_bounds(instant, field)


def once_more(instant: datetime, zone: tzinfo) -> datetime | None:
    """When the clocks showed the same time again, because they were set back that night; None on all other days."""
    local = instant.astimezone(zone)
    later = local.replace(fold=1).astimezone(UTC)
    return later if local.fold == 0 and later != instant else None


def in_bounds(instant: datetime, field: str = "at") -> datetime:
    """The same instant. Raises Refused for one that nobody can have meant."""
    if not EARLIEST <= instant < LATEST:
        raise _out_of_bounds(instant, field)
    return instant


def day_in_bounds(day: date) -> date:
    """The same day. Raises Refused for one that nobody can have meant."""
    if not EARLIEST.date() <= day < LATEST.date():
        raise _out_of_bounds(day, "")
    return day


def _out_of_bounds(when: date, field: str) -> Refused:
    message = _("Check the year of %(when)s: it goes from %(first)d to %(last)d.")
    years = {"first": EARLIEST.year, "last": LATEST.year - 1}
    return Refused(message % {"when": when.isoformat()[: len("2025-12-31")], **years}, field)
