"""Roles, switching off, one-time links and PINs, below the pages."""

from datetime import UTC, datetime, timedelta

import pytest

from shared.errors import Refused
from tooling.models import Invitation, Person, Pin, Role
from tooling.services import invitations, people, pins
from tooling.services.invitations import Ended

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 5, 12, 12, tzinfo=UTC)
PASSWORD = "three dry coats"


def test_a_link_is_stored_as_its_digest_alone(lead, hand):
    token = invitations.invite(hand, by=lead, at=NOON)
    row = Invitation.objects.get()
    assert token not in str(vars(row))
    assert row.digest == invitations.digest_of(token)


def test_a_link_works_once_and_only_the_newest(lead, hand):
    old = invitations.invite(hand, by=lead, at=NOON)
    new = invitations.invite(hand, by=lead, at=NOON)
    assert invitations.found(old, NOON)[1] == Ended.WITHDRAWN
    invitations.accept(new, at=NOON, password=PASSWORD)
    hand.refresh_from_db()
    assert hand.check_password(PASSWORD)
    assert invitations.found(new, NOON)[1] == Ended.USED
    with pytest.raises(Refused, match="lets nobody in"):
        invitations.accept(new, at=NOON, password="another dry coat")
    hand.refresh_from_db()
    assert hand.check_password(PASSWORD)


def test_a_link_runs_out(lead, hand):
    token = invitations.invite(hand, by=lead, at=NOON)
    last = NOON + invitations.LASTS
    assert invitations.found(token, last - timedelta(seconds=1))[1] is None
    assert invitations.found(token, last)[1] == Ended.TOO_OLD


def test_no_link_for_a_name_alone_or_for_who_has_left(lead, hand):
    with pytest.raises(Refused, match="only named"):
        invitations.invite(Person.objects.named("Kim"), by=lead, at=NOON)
    token = invitations.invite(hand, by=lead, at=NOON)
    people.switch_off(hand, at=NOON)
    assert invitations.found(token, NOON)[1] == Ended.WITHDRAWN
    with pytest.raises(Refused, match="switched off"):
        invitations.invite(hand, by=lead, at=NOON)


@pytest.mark.parametrize("role", ["hand", ""])
def test_the_last_lead_who_can_sign_in_stays_one(lead, role):
    waiting = people.add_person(name="Mara", role=Role.LEAD)
    for deed in (lambda: people.change_role(lead, role=role, at=NOON), lambda: people.switch_off(lead, at=NOON)):
        with pytest.raises(Refused, match="only lead"):
            deed()
    invitations.accept(invitations.invite(waiting, by=lead, at=NOON), at=NOON, password=PASSWORD)
    assert people.change_role(lead, role=role, at=NOON).role == role


def test_the_command_may_not_take_the_last_lead_either(lead):
    people.add_person(name="Mara", role=Role.LEAD)
    with pytest.raises(Refused, match="only lead"):
        people.give_role(name=lead.name, role="", at=NOON)


def test_a_station_stays_a_station(station, hand):
    for person, role in ((station, "hand"), (hand, "station")):
        with pytest.raises(Refused, match="A station stays one"):
            people.change_role(person, role=role, at=NOON)
        with pytest.raises(Refused, match="A station stays one"):
            people.give_role(name=person.name, role=role, at=NOON)


@pytest.mark.parametrize("role", ["", "hand", "lead"])
def test_the_command_ends_the_links_that_were_given_out(lead, hand, role):
    token = invitations.invite(hand, by=lead, at=NOON)
    people.give_role(name=hand.name, role=role, at=NOON)
    assert invitations.found(token, NOON)[1] == Ended.WITHDRAWN


def test_the_command_lets_in_again_who_has_left(hand):
    people.switch_off(hand, at=NOON)
    back, password = people.give_role(name=hand.name, role="hand", at=NOON)
    assert back.is_active
    assert back.check_password(password)


@pytest.mark.parametrize(
    "pin", ["", "123", "123456789", "12a4", "٤٥٦٧", "1111", "1212", "123123", "1234", "6789", "8901", "4321", "1987"]
)
def test_a_pin_that_anybody_would_try_is_refused(hand, pin):
    with pytest.raises(Refused):
        pins.set_pin(hand, pin=pin)
    assert not Pin.objects.exists()


@pytest.mark.parametrize("pin", ["2580", "7392", "90417263"])
def test_a_pin_is_kept_as_a_hash(hand, pin):
    pins.set_pin(hand, pin=pin)
    assert pin not in Pin.objects.get().secret
    assert pins.check(hand, pin, NOON)
    assert not pins.check(hand, "5813", NOON)


def test_guessing_is_slowed_down_for_one_person_alone(hand, lead):
    pins.set_pin(hand, pin="2580")
    pins.set_pin(lead, pin="2580")
    for _ in range(pins.FREE):
        assert not pins.check(hand, "7392", NOON)
    with pytest.raises(Refused, match=r"Too many wrong PINs for Test hand. Try again at 12:01."):
        pins.check(hand, "2580", NOON + timedelta(seconds=59))
    assert pins.check(lead, "2580", NOON)
    assert not pins.check(hand, "7392", NOON + timedelta(seconds=60))
    with pytest.raises(Refused, match="12:03"):
        pins.check(hand, "2580", NOON + timedelta(minutes=2, seconds=59))
    assert pins.check(hand, "2580", NOON + timedelta(minutes=3))
    assert not pins.check(hand, "7392", NOON + timedelta(minutes=3))


def test_the_wait_is_an_hour_at_most(hand):
    pins.set_pin(hand, pin="2580")
    Pin.objects.update(wrong=10_000, wrong_at=NOON)
    with pytest.raises(Refused, match="13:00"):
        pins.check(hand, "2580", NOON + timedelta(minutes=59))
    assert pins.check(hand, "2580", NOON + timedelta(minutes=60))


def test_without_a_pin_or_after_leaving_nobody_is_known(hand, station):
    with pytest.raises(Refused, match="has no PIN"):
        pins.check(hand, "2580", NOON)
    with pytest.raises(Refused, match="A station has no PIN"):
        pins.set_pin(station, pin="2580")
    pins.set_pin(hand, pin="2580")
    people.switch_off(hand, at=NOON)
    with pytest.raises(Refused, match="has no PIN"):
        pins.check(hand, "2580", NOON)
