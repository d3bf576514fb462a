"""The first instant of every local day of ten years, in zones whose clocks change at odd times.

Source: the time zone database itself, asked backwards: the instant is of that day, the one before it is not, and every
half hour until the next day begins is.
"""

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest

from tooling.calc.due import local_date
from tooling.calc.spans import day_begins

INSTANT = timedelta(microseconds=1)
HALF_HOUR = timedelta(minutes=30)
DAYS = [date(2016, 1, 1) + timedelta(days=days) for days in range(3653)]
ZONES = (
    "UTC", "America/New_York", "America/Havana", "Asia/Beirut", "America/Santiago", "America/Asuncion", "America/Nuuk",
    "Atlantic/Azores", "Africa/Cairo", "Asia/Kathmandu", "Australia/Lord_Howe", "Pacific/Chatham",
)  # fmt: skip


@pytest.mark.parametrize("zone", ZONES)
def test_a_day_begins_with_its_first_instant(zone):
    zone = ZoneInfo(zone)
    begins = [day_begins(day, zone) for day in DAYS]
    for day, begin in zip(DAYS, begins, strict=True):
        assert begin.tzinfo is UTC
        assert local_date(begin, zone) == day
        assert local_date(begin - INSTANT, zone) == day - timedelta(days=1)
    for (day, begin), (_, following) in pairwise(zip(DAYS, begins, strict=True)):
        within = (begin + halves * HALF_HOUR for halves in range((following - begin) // HALF_HOUR))
        assert all(local_date(instant, zone) == day for instant in within)
        assert local_date(following - INSTANT, zone) == day


def test_a_day_that_never_was_begins_with_the_next():
    """Samoa went over the date line: after Thursday 29 December 2011 came Saturday the 31st."""
    apia = ZoneInfo("Pacific/Apia")
    over = datetime(2011, 12, 30, 10, tzinfo=UTC)
    assert [day_begins(date(2011, 12, day), apia) for day in (29, 30, 31)] == [over - timedelta(days=1), over, over]
