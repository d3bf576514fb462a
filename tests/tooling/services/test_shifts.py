"""A name at a station, and the PIN of that person once a shift."""

from datetime import UTC, datetime, timedelta

import pytest

from shared.errors import Refused
from tooling.models import Person, Pin, Shift
from tooling.selectors.hands import hands, offered
from tooling.services import pins, shifts

pytestmark = pytest.mark.django_db
AT = datetime(2026, 5, 12, 6, 40, tzinfo=UTC)


@pytest.fixture
def mara(db):
    person = Person.objects.named("Mara")
    pins.set_pin(person, pin="8205")
    return person


def let_in(station, person, pin="", at=AT):
    """What a refusal says; "" where the name is taken."""
    try:
        shifts.let_in(station, person, pin=pin, at=at)
    except Refused as refused:
        return refused.message
    return ""


def test_without_any_pin_in_the_shop_a_name_is_enough(station, hand):
    assert let_in(station, hand) == ""
    assert not Shift.objects.exists()


def test_a_pin_is_asked_once_a_shift_at_each_station(station, mara):
    assert let_in(station, mara) == "The PIN of Mara is missing: once a shift."
    assert Pin.objects.get().wrong == 0
    assert let_in(station, mara, "8205") == ""
    assert let_in(station, mara, at=AT + timedelta(hours=9, minutes=59)) == ""
    assert let_in(station, mara, at=AT + shifts.LASTS) == "The PIN of Mara is missing: once a shift."
    other = Person.objects.create_person("Trim tablet", "station")
    assert let_in(other, mara) == "The PIN of Mara is missing: once a shift."


def test_a_wrong_one_is_counted_and_lets_nobody_in(station, mara):
    for _try in range(pins.FREE):
        assert let_in(station, mara, "1111") == "That is not the PIN of Mara."
    assert "Too many wrong PINs for Mara." in let_in(station, mara, "8205")
    assert let_in(station, mara, "8205", AT + timedelta(minutes=1)) == ""


def test_whoever_has_none_is_told_who_sets_one(station, hand, mara):
    assert let_in(station, hand, "8205") == "Test hand has no PIN here. The shop lead sets one."


@pytest.mark.parametrize("ends", [lambda p: pins.set_pin(p, pin="9316"), pins.take_away])
def test_another_pin_or_none_ends_the_shift(station, hand, mara, ends):
    pins.set_pin(hand, pin="5061")
    let_in(station, mara, "8205")
    ends(mara)
    assert let_in(station, mara) != ""


def test_those_of_the_last_shift_are_offered_first_and_always_in_one_order(station, hand, lead, mara):
    pins.set_pin(hand, pin="5061")
    names = lambda at: [one.person.name for one in offered(station, hands(), at)]  # noqa: E731
    assert names(AT) == ["Test lead", "Test hand", "Mara"]
    let_in(station, mara, "8205")
    assert names(AT) == names(AT + timedelta(hours=20)) == ["Mara", "Test lead", "Test hand"]
    assert names(AT + timedelta(days=2)) == ["Test lead", "Test hand", "Mara"]
    first, second, third = offered(station, hands(), AT)
    assert (first.until, first.wants_pin) == (AT + shifts.LASTS, False)
    assert (second.no_pin, third.wants_pin) == (True, True)
