"""Which shop hours and closed days cannot be, and what is to be changed. Worked out by hand."""

from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError

from tooling.calc.hours import ShopHours
from tooling.models.shop_hours import check_closed_days, check_ever_open, check_week, days_of, to_days

XMAS = date(2026, 12, 24)


@pytest.mark.parametrize(
    "week",
    ["", "Mon-Fri 08:00-17:00", "Fri 22:00-06:00", "Mon-Sun 00:00-24:00", "Mon 18:00-06:00, Tue 06:00-14:00",
     "Sun 22:00-06:00, Mon 06:00-22:00", "Mon 16:00-00:00"],
)  # fmt: skip
def test_hours_that_can_be(week):
    check_week(week)
    ShopHours("UTC", dict(enumerate(to_days(week))))


@pytest.mark.parametrize(
    ("week", "says"),
    [
        ("Mon 08:00-08:00", "opens and closes at once. Say when it closes"),
        ("Mon 24:00-08:00", "Begin it at 00:00"),
        (
            "Mon-Fri 17:00-08:00",
            "Over midnight go at most 12 hours; write .* 17:00-24:00, and 00:00-08",
        ),
        ("Mon-Fri 08:00-17:00, Wed 12:00-18:00", "Wednesday 08:00-17:00 and Wednesday 12:00-18:00 overlap"),
        ("Mon 22:00-06:00, Tue 05:00-14:00", "Monday 22:00-06:00 and Tuesday 05:00-14:00 overlap"),
        ("Sun 22:00-06:00, Mon 05:30-14:00", "Sunday 22:00-06:00 and Monday 05:30-14:00 overlap"),
        (" , ; ", "A week without any hours"),
        ("never", "is no shop hours"),
    ],
)
def test_hours_that_cannot_be_say_what_to_change(week, says):
    with pytest.raises(ValidationError, match=says):
        check_week(week)


@pytest.mark.parametrize(
    ("days", "says"),
    [
        ("2026-13-45", "is no date"),
        ("soon", "is no date"),
        ("9999-12-31", "Write one between 2000 and 2100"),
        (", ".join(str(XMAS + timedelta(days=7 * n)) for n in range(2001)), "at most 2000"),
    ],
)
def test_closed_days_that_cannot_be(days, says):
    with pytest.raises(ValidationError, match=says):
        check_closed_days(days)


def test_a_shop_opens_once_a_year_at_least():
    """367 days on end are too many; so are the Fridays of two years where it opens on Fridays only."""
    working, fridays = to_days("Mon-Fri 08:00-17:00"), to_days("Fri 08:00-12:00")
    year = [XMAS + timedelta(days=n) for n in range(367)]
    check_ever_open(working, year)
    with pytest.raises(ValidationError, match="From 2026-12-24 to 2027-12-26 the shop would not open once"):
        check_ever_open(working, [*year, XMAS + timedelta(days=367)])
    each_friday = [date(2027, 1, 1) + timedelta(days=7 * n) for n in range(60)]
    check_ever_open(working, each_friday)
    with pytest.raises(ValidationError, match="From 2027-01-01"):
        check_ever_open(fridays, each_friday)
    assert days_of("2026-12-25,2026-12-24, 2026-12-25") == [XMAS, XMAS + timedelta(days=1)]
