"""The way into a history: what is refused leaves nothing behind, a form sent twice writes once, all else is kept."""

from datetime import datetime, timedelta
from uuid import uuid4

import pytest

from shared import clock
from shared.errors import Refused, TokenReused
from tooling.models import Entry, Flag, Kind, Person, Shop, Span, Summary
from tooling.services import deeds
from tooling.services.ledger import record
from tooling.services.starters import STARTERS, add_starter
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
NOBODY = {"by": None, "recorded_by": None}


@pytest.fixture
def mold(db):
    return add_tool(code="HULL-1", name="Hull", kind=Kind.MOLD, release_system=add_starter(next(iter(STARTERS))).system)


@pytest.fixture
def other(mold):
    return add_tool(code="HULL-2", name="Hull", kind=Kind.MOLD, release_system=mold.release_system)


@pytest.fixture
def rim(mold):
    return add_tool(code="RIM-1", name="Rim", kind=Kind.INSERT, release_system=mold.release_system)


def everything():
    return [list(model.objects.order_by("pk").values()) for model in (Entry, Summary, Flag, Span)]


REFUSED = {
    "unknown kind": ("entry", "dance", {}),
    "no zone": ("at", "coat", {"at": datetime(2026, 3, 2, 8)}),
    "future": ("at", "coat", {"at": clock.now() + timedelta(days=1)}),
    "count 0": ("count", "pull", {"count": 0}),
    "count 501": ("count", "pull", {"count": 501}),
    "area": ("area", "coat", {"area": "rim"}),
    "came off": ("came_off", "pull", {"came_off": "easy"}),
    "came off of a coat": ("came_off", "coat", {"came_off": "free"}),
    "cause": ("cause", "pull", {"cause": "moon"}),
    "fault": ("fault", "pull", {"fault": "moon"}),
    "reason of a coat": ("reason", "coat", {"reason": "moon"}),
    "prepared": ("prepared", "starting_state", {"prepared": "perhaps"}),
    "below zero": ("total_pulls", "starting_state", {"prepared": "no", "total_pulls": -1}),
    "pulls 501": ("pulls_since_coat", "starting_state", {"prepared": "yes", "pulls_since_coat": 501}),
    "touch-ups 501": ("touch_ups", "starting_state", {"prepared": "yes", "touch_ups": 501}),
    "a million pulls": ("total_pulls", "starting_state", {"prepared": "no", "total_pulls": 1_000_001}),
    "passed": ("passed", "inspected", {}),
    "recipe": ("release_system", "coat", {"release_system": "NONE"}),
    "no recipe": ("release_system", "release_system", {}),
    "not an insert": ("entry", "installed", {}),
    "not a mask": ("entry", "used", {}),
}


@pytest.mark.parametrize(("field", "kind", "said"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused_says_where_and_leaves_nothing(mold, field, kind, said):
    before = everything()
    with pytest.raises(Refused) as refused:
        record(mold, kind, **{**NOBODY, **said})
    assert refused.value.field == field
    assert refused.value.message
    assert everything() == before


def test_targets_of_voids_and_corrections(mold, other):
    coat = deeds.log_coat(mold, **NOBODY)
    stranger = deeds.log_coat(other, **NOBODY)
    void = deeds.void(coat, reason="not done", **NOBODY)
    before = everything()
    for target in (coat, void, stranger):
        with pytest.raises(Refused):
            record(mold, "void", voids=target, reason="again", **NOBODY)
        with pytest.raises(Refused):
            record(mold, "coat", replaces=target, **NOBODY)
    with pytest.raises(Refused, match="Say why"):
        deeds.void(stranger, reason=" ", **NOBODY)
    with pytest.raises(Refused):
        record(mold, "void", **NOBODY)
    assert everything() == before


def test_only_one_starting_state_stands(mold):
    first = deeds.set_starting_state(mold, prepared="no", **NOBODY)
    with pytest.raises(Refused, match="starting state"):
        deeds.set_starting_state(mold, prepared="no", **NOBODY)
    second = deeds.correct(first, reason="found the book", changes={"total_pulls": 12}, **NOBODY)
    deeds.void(second, reason="wrong book", **NOBODY)
    deeds.set_starting_state(mold, prepared="no", total_pulls=3, **NOBODY)
    assert Summary.objects.get(tool=mold).total_pulls == 3


def test_an_insert_is_in_one_mold(mold, other, rim):
    start = clock.now() - timedelta(days=3)
    deeds.install(rim, mold=mold, at=start, **NOBODY)
    out = deeds.remove(rim, at=start + timedelta(hours=2), **NOBODY)
    deeds.install(rim, mold=other, at=start + timedelta(hours=2), **NOBODY)
    before = everything()
    with pytest.raises(Refused, match="two molds"):
        deeds.install(rim, mold=other, at=start + timedelta(hours=1), **NOBODY)
    with pytest.raises(Refused, match="two molds"):
        deeds.void(out, reason="never out", **NOBODY)
    assert everything() == before
    assert Summary.objects.get(tool=rim).in_mold_of == other


def test_a_surface_is_the_tool_or_an_insert_that_is_reached(mold, other, rim):
    for surface in (rim, other):
        with pytest.raises(Refused) as refused:
            deeds.log_pull(mold, came_off="tight", surface=surface, **NOBODY)
        assert refused.value.field == "surface"
    deeds.install(rim, mold=mold, **NOBODY)
    deeds.log_pull(mold, came_off="tight", surface=rim, **NOBODY)
    deeds.log_pull(mold, came_off="tight", surface=mold, **NOBODY)


def test_a_recipe_in_force_is_no_change(mold):
    with pytest.raises(Refused, match="in force"):
        deeds.change_release_system(mold, release_system=mold.release_system.code, **NOBODY)


def test_the_same_form_again_gets_the_first_answer(mold):
    token = uuid4()
    first = deeds.log_pull(mold, came_off="free", token=token, **NOBODY)
    before = everything()
    assert deeds.log_pull(mold, came_off="free", token=token, **NOBODY) == first
    assert everything() == before
    deeds.void(first, reason="was the deck", **NOBODY)
    assert deeds.log_pull(mold, came_off="free", token=token, **NOBODY) == first


def test_a_token_with_other_content_is_refused(mold, other):
    token = uuid4()
    deeds.log_pull(mold, came_off="free", token=token, **NOBODY)
    before = everything()
    for tool, said in ((mold, {"came_off": "tight"}), (other, {"came_off": "free"}), (mold, {"count": 2})):
        with pytest.raises(TokenReused):
            deeds.log_pull(tool, **{**said, "token": token}, **NOBODY)
    assert everything() == before


def test_rubbing_out_is_ones_own_and_for_five_minutes(mold, time_machine):
    ada, bo = (Person.objects.named(name) for name in ("Ada", "Bo"))
    start = clock.now()
    time_machine.move_to(start, tick=False)
    mine = deeds.log_coat(mold, by=bo, recorded_by=ada)
    with pytest.raises(Refused):
        deeds.rub_out(mine, recorded_by=bo)
    time_machine.move_to(start + timedelta(minutes=5), tick=False)
    deeds.rub_out(mine, recorded_by=ada)
    assert Summary.objects.get(tool=mold).total_coats == 0
    late = deeds.log_coat(mold, by=ada, recorded_by=ada)
    time_machine.move_to(start + timedelta(minutes=10, seconds=1), tick=False)
    with pytest.raises(Refused, match="five minutes"):
        deeds.rub_out(late, recorded_by=ada)


@pytest.mark.parametrize("formal", [False, True])
def test_the_hand_that_held_it_frees_it_only_without_formal_records(mold, formal):
    Shop(time_zone="UTC", formal_records=formal).save()
    ada = Person.objects.named("Ada")
    deeds.hold(mold, by=ada, recorded_by=ada)
    if formal:
        with pytest.raises(Refused, match="formal records"):
            deeds.inspect(mold, passed=True, by=ada, recorded_by=ada)
        bo = Person.objects.named("Bo")
        with pytest.raises(Refused, match="signs in"):
            deeds.inspect(mold, passed=True, to_free=True, by=bo, recorded_by=ada)
        deeds.inspect(mold, passed=True, by=bo, recorded_by=ada)
        assert not Flag.objects.exists()
    else:
        deeds.inspect(mold, passed=True, by=ada, recorded_by=ada)
        assert Flag.objects.get().flag == "inspected_by_same_hand"
    assert Summary.objects.get(tool=mold).held_since is None


def test_a_mistake_that_happened_is_kept_and_flagged(mold):
    deeds.log_pull(mold, came_off="tight", **NOBODY)
    assert list(Flag.objects.values_list("flag", flat=True)) == ["used_on_bare"]
    assert Summary.objects.get(tool=mold).total_pulls == 1
