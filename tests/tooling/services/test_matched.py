"""Halves that close on one part: written together or not at all, once, and taken back together."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.db import connection

from shared.errors import Refused, TokenReused
from tests.tooling.views.works import NOW, ago, do, mold, open_shop
from tooling.models import Entry, Person, Summary, Tool
from tooling.selectors.matched import other_halves
from tooling.services import deeds
from tooling.services.deeds import HalfPulled
from tooling.services.whole_check import findings

pytestmark = pytest.mark.django_db


@pytest.fixture
def pair(db):
    """Two halves that are ready, and two molds that are none of theirs."""
    with time_machine.travel(NOW, tick=False):
        wax = open_shop()
        halves = [mold(code, wax, matched_set="Fin") for code in ("FIN-A", "FIN-B")]
        mold("OTHER", wax, matched_set="Seat")
        mold("ALONE", wax)
        yield halves


@pytest.fixture
def jonas(db):
    return Person.objects.named("Jonas")


def begun(pair, by=None, **more):
    about = {"part": "FIN", "serial": "7", "by": by, "recorded_by": by, **more}
    return deeds.lay_up_set(pair, **about)


def off(pair, first="free", second="tight", **more):
    halves = [
        HalfPulled(pair[0], came_off=first),
        HalfPulled(pair[1], came_off=second, tool_damaged=True, fault="drag"),
    ]
    return deeds.log_pull_set(halves, **{"part": "FIN", "serial": "7", "by": None, "recorded_by": None, **more})


def kinds():
    return list(Entry.objects.exclude(kind="coat").order_by("id").values_list("tool__code", "kind", "part", "serial"))


def test_one_start_is_written_to_both_with_part_serial_and_time(pair):
    first, second = begun(pair, earliest_pull=timedelta(hours=9))
    assert kinds() == [("FIN-A", "lay_up", "FIN", "7"), ("FIN-B", "lay_up", "FIN", "7")]
    assert first.earliest_pull == second.earliest_pull == NOW + timedelta(hours=9)
    (other,) = other_halves(pair[0], NOW)
    assert (other.tool.code, other.part_in, other.same_part) == ("FIN-B", True, True)
    assert not list(findings())


def test_each_half_came_off_in_its_own_way(pair):
    begun(pair, at=ago(hours=9))
    first, second = off(pair)
    assert [one.came_off for one in (first, second)] == ["free", "tight"]
    assert ("tool_damaged" in first.payload, second.payload["tool_damaged"], second.payload["fault"]) == (
        False, True, "drag",
    )  # fmt: skip
    assert not Summary.objects.exclude(laid_up_at=None).exists()
    assert Summary.objects.get(tool=pair[1]).held_since is not None
    assert Summary.objects.get(tool=pair[0]).held_since is None


def test_abandoned_and_done_are_written_to_both(pair):
    begun(pair, at=ago(hours=3))
    deeds.end_lay_up_set(pair, by=None, recorded_by=None, at=ago(hours=1), earliest_pull=NOW)
    deeds.abandon_set(pair, reason="the bag burst", by=None, recorded_by=None)
    assert [kind for _code, kind, *_ in kinds()] == ["lay_up"] * 2 + ["lay_up_done"] * 2 + ["abandoned"] * 2
    assert {one.payload.get("reason") for one in Entry.objects.filter(kind="abandoned")} == {"the bag burst"}


def test_the_same_form_twice_writes_nothing_twice(pair):
    token = uuid4()
    assert begun(pair, token=token) == begun(pair, token=token)
    assert len(kinds()) == 2


@pytest.mark.parametrize(("first", "then"), [([0, 1], [0]), ([0], [0, 1])])
def test_the_same_form_with_another_half_is_another_one(pair, first, then):
    token = uuid4()
    begun([pair[one] for one in first], token=token)
    with pytest.raises(TokenReused):
        begun([pair[one] for one in then], token=token)
    assert len(kinds()) == len(first)


def test_what_one_half_refuses_is_written_on_none(pair):
    halves = [HalfPulled(pair[0], came_off="free"), HalfPulled(pair[1], came_off="sideways")]
    with pytest.raises(Refused, match=r"^FIN-B: .*sideways"):
        deeds.log_pull_set(halves, by=None, recorded_by=None)
    assert kinds() == []


def test_only_molds_of_one_set_belong_together(pair):
    for others in (["OTHER"], ["ALONE"]):
        with pytest.raises(Refused, match="matched set"):
            begun([pair[0], *Tool.objects.filter(code__in=others)])
    with pytest.raises(Refused, match="matched set"):
        begun([pair[0], pair[0]])
    assert begun([Tool.objects.get(code="ALONE")])[0].tool.code == "ALONE"


def test_a_half_in_the_making_or_retired_is_no_half(pair):
    making = mold("FIN-C", pair[0].release_system, matched_set="Fin", in_making=True, pulls=None)
    assert [one.tool.code for one in other_halves(pair[0], NOW)] == ["FIN-B"]
    do("accept", making)
    assert [one.tool.code for one in other_halves(pair[0], NOW)] == ["FIN-B", "FIN-C"]
    do("retire", pair[1], reason="cracked")
    assert [one.tool.code for one in other_halves(pair[0], NOW)] == ["FIN-C"]
    assert other_halves(Tool.objects.get(code="ALONE"), NOW) == []


@pytest.mark.parametrize("half", [0, 1])
def test_rubbed_out_from_either_half_both_are_taken_back(pair, jonas, half):
    entries, token = begun(pair, jonas, token=uuid4()), uuid4()
    for _time in range(2):
        deeds.rub_out_set(entries[half], recorded_by=jonas, token=token)
    assert [kind for _code, kind, *_ in kinds()] == ["lay_up"] * 2 + ["void"] * 2
    assert not Summary.objects.exclude(laid_up_at=None).exists()


def test_what_was_said_of_one_half_since_goes_with_it(pair, jonas):
    first, second = off(pair, by=jonas, recorded_by=jonas, token=uuid4())
    said = deeds.correct(second, reason="seen", changes={"fault": "dull"}, by=jonas, recorded_by=jonas)
    assert deeds.written_with(first) == [said]
    assert deeds.written_with(said) == [first]
    deeds.rub_out_set(first, recorded_by=jonas)
    assert not Entry.objects.filter(kind="pull").standing().exists()


def test_what_was_not_written_together_is_not_taken_back_together(pair, jonas):
    alone = [begun([one], jonas, token=uuid4())[0] for one in pair]
    assert deeds.written_with(alone[0]) == []
    deeds.rub_out_set(alone[0], recorded_by=jonas)
    assert [one.tool for one in Entry.objects.filter(kind="lay_up").standing()] == [pair[1]]


def test_after_five_minutes_neither_is_rubbed_out(pair, jonas):
    first, _second = begun(pair, jonas, token=uuid4())
    with time_machine.travel(NOW + timedelta(minutes=6), tick=False), pytest.raises(Refused, match="five minutes"):
        deeds.rub_out_set(first, recorded_by=jonas)
    assert len(kinds()) == 2


@pytest.mark.django_db(transaction=True)
def test_two_hands_at_the_two_halves_are_both_exact(pair):
    def pull(number):
        try:
            return len(off(pair[:: 1 if number % 2 else -1], token=uuid4(), second="free"))
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as hands:
        assert list(hands.map(pull, range(8))) == [2] * 8
    assert [one.total_pulls for one in Summary.objects.filter(tool__in=pair).order_by("tool")] == [8, 8]
    assert not list(findings())
