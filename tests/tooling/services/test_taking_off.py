"""A part is taken off: held until somebody has looked, and one pull however many hands write it at once."""

from datetime import timedelta
from threading import Barrier, Thread
from uuid import uuid4

import pytest
import time_machine
from django.db import connections

from shared import clock
from shared.errors import Refused
from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, Flag, Shop, Summary
from tooling.services import deeds
from tooling.services.recheck import differences
from tooling.services.tools import rules

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def take_off(shop, hand):
    def taken(came_off="stuck", **said):
        said = {"lay_up": None, "by": hand, "recorded_by": hand, "token": uuid4(), **said}
        return deeds.take_off(shop.mold, came_off=came_off, **said)

    return taken


@pytest.fixture
def look(hand):
    def looked(pull, token=None, **changes):
        return deeds.add_to_pull(pull, changes=changes, recorded_by=hand, token=token or uuid4())

    return looked


def holds(tool):
    """Why the tool is held, as the rules have it; the ledger is whole."""
    assert not list(differences(rules()))
    return sorted(Summary.objects.get(tool=tool).state.get("holds", {}))


@pytest.mark.parametrize(("came_off", "why"), [("tight", []), ("stuck", ["hold"]), ("lost", ["came_off", "hold"])])
def test_what_may_be_marked_is_held_with_the_pull(take_off, shop, came_off, why):
    pull = take_off(came_off)
    assert holds(shop.mold) == why
    assert not Flag.objects.filter(entry=pull, flag="used_on_hold").exists()


def test_said_at_once_whether_it_is_marked_nothing_is_held_for_nobody_looking(take_off, shop):
    take_off(tool_damaged=False)
    assert holds(shop.mold) == []


@pytest.mark.parametrize(("marked", "why"), [(False, []), (True, ["tool_damaged"])])
def test_the_answer_takes_that_hold_back_in_plain_sight(take_off, look, shop, hand, marked, why):
    token, pull = uuid4(), take_off()
    for _ in range(2):
        look(pull, token, tool_damaged=marked)
    assert holds(shop.mold) == why
    hold, void = Entry.objects.get(kind="hold"), Entry.objects.get(kind="void")
    assert (void.voids, void.by, void.recorded_by) == (hold, hand, hand)
    assert void.payload["reason"].startswith("looked at at once: it is ")


def test_with_formal_records_it_is_a_slip_put_right_and_nobody_frees_an_own_hold(take_off, look, shop, hand):
    Shop.objects.update(formal_records=True)
    pull = take_off()
    with pytest.raises(Refused):
        deeds.inspect(shop.mold, passed=True, by=hand, recorded_by=hand)
    look(pull, tool_damaged=False)
    assert holds(shop.mold) == []


def test_after_five_minutes_it_is_a_hold_like_any_other(take_off, look, shop, lead):
    with time_machine.travel(clock.now(), tick=False) as later:
        pull = take_off()
        later.shift(timedelta(minutes=4))
        pull = look(pull, fault="drag")
        later.shift(timedelta(minutes=2))
        with pytest.raises(Refused, match="until somebody has looked"):
            look(pull, tool_damaged=False)
        assert holds(shop.mold) == ["hold"]
        deeds.inspect(shop.mold, passed=True, by=lead, recorded_by=lead)
        assert holds(shop.mold) == []


def test_the_mark_and_the_hold_go_together(take_off, look, shop, hand):
    pull = look(take_off("stuck"), came_off="light")
    assert holds(shop.mold) == []
    pull = look(pull, came_off="stuck")
    assert holds(shop.mold) == ["hold"]
    deeds.rub_out(pull, recorded_by=hand)
    assert (holds(shop.mold), Summary.objects.get(tool=shop.mold).total_pulls) == ([], 0)


def test_a_late_pull_holds_from_then_on_and_who_looked_since_has_freed_it(take_off, shop, lead):
    happened.inspect(shop.mold, passed=True)
    take_off(at=clock.now() - timedelta(minutes=30))
    assert holds(shop.mold) == []


def test_the_same_form_again_holds_nothing_that_was_answered(take_off, look, shop):
    token = uuid4()
    look(take_off(token=token), tool_damaged=False)
    take_off(token=token)
    assert (holds(shop.mold), Entry.objects.filter(kind="hold").count()) == ([], 1)


@pytest.mark.django_db(transaction=True)
def test_two_hands_at_the_same_instant_write_one_pull(take_off, shop):
    lay_up = happened.lay_up(shop.mold)
    start, asked, failures = Barrier(2), [], []

    def hand():
        try:
            start.wait(timeout=10)
            take_off("free", lay_up=lay_up.pk)
        except deeds.PulledMeanwhile as meanwhile:
            asked.append(meanwhile.before)
        except Exception as error:
            failures.append(error)
        finally:
            connections.close_all()

    threads = [Thread(target=hand) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert (asked, failures) == ([Entry.objects.get(kind="pull")], [])
