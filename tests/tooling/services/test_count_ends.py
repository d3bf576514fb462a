"""How a count ends: a few at once, taken up again, and when the place that was counted may go."""

from datetime import timedelta
from unittest.mock import Mock

import pytest
import time_machine
from django.db import OperationalError

from shared.errors import Refused
from tests.tooling.services.test_change_place import elsewhere
from tests.tooling.services.test_place_counts import count as count
from tests.tooling.services.test_place_counts import ines as ines
from tests.tooling.services.test_place_counts import morning as morning
from tests.tooling.services.test_place_counts import page, sound
from tests.tooling.services.test_place_counts import rack as rack
from tests.tooling.views.works import NOW, do
from tooling.models import Place
from tooling.services import place_counts
from tooling.services.places import take_down

pytestmark = pytest.mark.django_db


def test_the_end_writes_a_few_at_once_and_goes_on_where_it_broke_off(count, rack, monkeypatch):
    monkeypatch.setattr(place_counts, "_AT_ONCE", 2)
    with monkeypatch.context() as broken:
        broken.setattr(place_counts, "_close", Mock(side_effect=RuntimeError))
        with pytest.raises(RuntimeError):
            place_counts.end(count, by=None, recorded_by=None)
    assert [line.missed for line in page(count).not_met] == [True, True, False]
    assert [entry.tool.code for entry in place_counts.end(count, by=None, recorded_by=None)] == ["SEAT"]
    assert sound()


def test_a_count_that_was_ended_by_mistake_goes_on_for_five_minutes(count, rack):
    do("move", rack.SEAT, place=rack.second)
    place_counts.end(count, by=None, recorded_by=None)
    with time_machine.travel(NOW + timedelta(minutes=6), tick=False), pytest.raises(Refused, match="five minutes"):
        place_counts.take_up_again(count, by=None, recorded_by=None)
    place_counts.take_up_again(count, by=None, recorded_by=None)
    assert not any(line.missed for line in page(count).not_met)
    rack.DECK.summary.refresh_from_db()
    assert rack.DECK.summary.lies == rack.first.pk
    assert sound()


def test_a_place_goes_where_a_count_of_it_was_given_up_at_once_and_stays_where_it_was_counted(count, rack):
    empty = Place.objects.create(code="QQ", name="A slip")
    again = place_counts.begin(empty, by=None)
    with pytest.raises(Refused, match="QQ was counted, or is being counted"):
        take_down(empty)
    place_counts.give_up(again, by=None)
    take_down(empty)
    assert not Place.objects.filter(code="QQ").exists()


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_two_who_begin_at_once_take_turns_so_that_no_shelf_is_counted_twice(monkeypatch):
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    shelf = Place.objects.create(code="B-1", name="Shelf 1", parent=rack)
    look, waited = place_counts.open_below, []

    def meanwhile(place):
        monkeypatch.setattr(place_counts, "open_below", look)
        found = look(place)
        with pytest.raises(OperationalError):
            elsewhere(lambda: place_counts.begin(shelf, by=None), longest="100ms")
        waited.append(place)
        return found

    monkeypatch.setattr(place_counts, "open_below", meanwhile)
    place_counts.begin(rack, by=None)
    assert waited == [rack]
    assert place_counts.begin(shelf, by=None).place == rack
