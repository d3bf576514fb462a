"""Times as they are typed, within the bounds that hold for all of them."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from shared.errors import Refused
from tooling.services.times import day_in_bounds, in_bounds, moment

OSLO, NEW_YORK = ZoneInfo("Europe/Oslo"), ZoneInfo("America/New_York")


@pytest.mark.parametrize("typed", ["1950-01-01T00:00Z", "2199-12-31T23:59:59Z", "1950-01-01", "1949-12-31T20:00-05:00"])
@pytest.mark.parametrize("zone", [UTC, NEW_YORK])
def test_within_the_bounds(typed, zone):
    assert moment(typed, zone).tzinfo is UTC


@pytest.mark.parametrize(
    "typed",
    [
        "9999-12-31T23:30Z", "9999-12-31", "9999-12-31T23:59-12:00", "0001-01-01T00:30Z", "0001-01-01T00:30+14:00",
        "0001-01-01", "1949-12-31T23:59Z", "2200-01-01T00:00Z", "2199-12-31T23:59-01:00",
    ],
)  # fmt: skip
@pytest.mark.parametrize("zone", [UTC, OSLO, NEW_YORK])
def test_beyond_them_the_year_is_asked_for(typed, zone):
    with pytest.raises(Refused, match=r"^Check the year of \S+: it goes from 1950 to 2199\.$") as refused:
        moment(typed, zone, "valid_from")
    assert refused.value.field == "valid_from"


def test_the_first_and_the_last_day():
    assert day_in_bounds(date(1950, 1, 1)) == date(1950, 1, 1)
    for day in (date(1949, 12, 31), date(2200, 1, 1)):
        with pytest.raises(Refused):
            day_in_bounds(day)
    with pytest.raises(Refused):
        in_bounds(datetime(2200, 1, 1, tzinfo=UTC))
