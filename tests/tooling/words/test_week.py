"""The shop's hours as the sheet's text and as seven days."""

import pytest

from tooling.models.shop_hours import check_week, to_days
from tooling.words.week import day_text, read_day, to_text

EIGHT = (("08:00", "17:00"),)
SPLIT = (("07:00", "12:00"), ("12:30", "16:00"))


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("", [()] * 7),
        ("Mon-Fri 08:00-17:00", [EIGHT] * 5 + [(), ()]),
        ("mon - thu 07:00-12:00, Mon-Thu 12:30 - 16:00; Fri 8:00-17:00", [SPLIT] * 4 + [EIGHT, (), ()]),
        ("Sat-Mon 08:00-17:00", [EIGHT, (), (), (), (), EIGHT, EIGHT]),
    ],
)
def test_a_text_is_seven_days_and_back(text, days):
    assert list(to_days(text)) == days
    again = to_text(to_days(text))
    check_week(again)
    assert to_days(again) == to_days(text)


def test_days_that_are_alike_are_said_together():
    assert to_text((SPLIT, SPLIT, EIGHT, (), EIGHT, (), ())) == (
        "Mon-Tue 07:00-12:00, Mon-Tue 12:30-16:00, Wed 08:00-17:00, Fri 08:00-17:00"
    )


@pytest.mark.parametrize("typed", ["8-17", "08:00-17:00", "8.00 – 17.00", " 8 to 17 ", "08:00 until 17:00"])
def test_hours_are_typed_as_people_do(typed):
    assert read_day(typed) == EIGHT


def test_a_break_and_midnight():
    assert day_text(read_day("12:30-16, 7-12")) == "07:00-12:00, 12:30-16:00"
    assert read_day("16-24") == (("16:00", "24:00"),)
    assert read_day("") == ()


@pytest.mark.parametrize("typed", ["noon", "8", "8-25", "8:70-9", "24:01-8", "8-17 Mon"])
def test_what_is_no_hours_is_refused(typed):
    with pytest.raises(ValueError, match="is no hours"):
        read_day(typed)
