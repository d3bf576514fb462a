"""What is seen of a pull once it is written, and a time that counts from the start of lay-up."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.errors import Refused
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Entry, Summary
from tooling.services import deeds

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def pull(shop, hand):
    return deeds.log_pull(shop.mold, came_off="stuck", by=hand, recorded_by=hand)


def test_a_pull_says_nothing_that_nobody_said(pull):
    assert pull.payload == {}


def test_nothing_new_writes_nothing(pull, hand):
    changes = {"fault": "", "cause": None, "came_off": "stuck"}
    assert deeds.add_to_pull(pull, changes=changes, recorded_by=hand) == pull


def test_no_is_an_answer(pull, hand):
    entry = deeds.add_to_pull(pull, changes={"tool_damaged": False}, recorded_by=hand)
    assert (entry.replaces, entry.payload["tool_damaged"], entry.by) == (pull, False, hand)


def test_with_nobody_having_looked_both_stand_or_neither(shop, pull, hand):
    token = uuid4()
    with pytest.raises(Refused):
        deeds.add_to_pull(pull, changes={"fault": "mystery"}, not_looked=True, recorded_by=hand, token=token)
    assert Entry.objects.filter(tool=shop.mold).last() == pull
    deeds.add_to_pull(pull, changes={"fault": "drag"}, not_looked=True, recorded_by=hand, token=token)
    assert Summary.objects.get(tool=shop.mold).state["holds"].keys() == {"hold"}


def test_others_cannot(pull, lead):
    with pytest.raises(Refused):
        deeds.add_to_pull(pull, changes={"fault": "drag"}, recorded_by=lead)


def test_an_earliest_pull_may_count_from_the_start_and_twice_is_once(shop, hand):
    token = uuid4()
    said = {"by": hand, "recorded_by": hand, "token": token, "earliest_pull": timedelta(hours=14)}
    first = deeds.lay_up(shop.mold, **said)
    assert first.earliest_pull == first.at + timedelta(hours=14)
    assert deeds.lay_up(shop.mold, **said) == first
