"""That a coat was wiped, and that it was not."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.urls import reverse

from shared.clock import now
from shared.errors import Refused
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, Summary, Wipe
from tooling.selectors.coats import wipes_of
from tooling.services.deeds import correct
from tooling.services.recheck import differences
from tooling.services.tools import rules
from tooling.services.wiping import take_back, wipe

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def coat(shop):
    return happened.log_coat(shop.mold)


def test_it_is_no_entry_and_changes_no_state(shop, coat, hand):
    before = Entry.objects.count(), Summary.objects.get(tool=shop.mold).state
    [wiped] = wipe([coat], by=hand, recorded_by=hand, token=uuid4())
    assert (wiped.coat, wiped.by) == (coat, hand)
    assert (Entry.objects.count(), Summary.objects.get(tool=shop.mold).state) == before
    assert not list(differences(rules()))


def test_twice_and_by_two_people_it_is_one(coat, hand, lead):
    token = uuid4()
    first = [wipe([coat], by=who, recorded_by=who, token=token)[0] for who in (hand, hand)]
    other = wipe([coat], by=lead, recorded_by=lead, token=uuid4())
    assert {one.pk for one in (*first, *other)} == {Wipe.objects.get().pk}


def test_the_same_form_does_not_bring_back_what_was_taken_back(coat, hand):
    token = uuid4()
    [wiped] = wipe([coat], by=hand, recorded_by=hand, token=token)
    take_back(wiped, by=hand)
    wipe([coat], by=hand, recorded_by=hand, token=token)
    assert not Wipe.objects.standing().exists()


def test_it_is_taken_back_by_who_said_it_for_five_minutes(coat, hand, lead):
    [wiped] = wipe([coat], by=hand, recorded_by=hand)
    with pytest.raises(Refused):
        take_back(wiped, by=lead)
    with time_machine.travel(now() + timedelta(minutes=6)), pytest.raises(Refused):
        take_back(wiped, by=hand)
    assert Wipe.objects.standing().get() == wiped


def test_only_a_coat_that_stands_is_wiped(shop, coat, hand):
    happened.void(coat, reason="other mold")
    for entry in (coat, happened.log_sealer(shop.mold)):
        with pytest.raises(Refused):
            wipe([entry], by=hand, recorded_by=hand)


def test_a_corrected_coat_stays_wiped(coat, hand):
    wipe([coat], by=hand, recorded_by=hand)
    for count in (2, 3):
        coat = correct(coat, reason="counted", changes={"count": count}, by=None, recorded_by=None)
    assert wipes_of([coat])[coat.pk].by == hand


def test_what_was_held_up_was_wiped_when_it_was_sent_and_never_before_the_coat(client, shop, hand):
    coat = happened.log_coat(shop.mold, at=now() - timedelta(hours=1))
    client.force_login(hand)
    client.post(reverse("wiped", args=["DECK-2A"]), {"coat": coat.number, "token": str(uuid4()), "waited": "1200"})
    assert timedelta(minutes=19) < now() - Wipe.objects.get().at < timedelta(minutes=22)
    [other] = wipe([happened.log_coat(shop.mold)], by=hand, recorded_by=hand, ago=timedelta(hours=2))
    assert other.at == other.coat.at
