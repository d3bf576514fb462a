"""Tools whose states are tied to each other: what a deed on one changes on the others, by a step or a fold alike."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared import clock
from shared.errors import Refused
from tooling.models import Kind, Person, Shop, Span, Summary
from tooling.services import absorb, deeds
from tooling.services.recheck import differences
from tooling.services.recipes import add_version
from tooling.services.starters import STARTERS, add_starter
from tooling.services.tools import add_tool, rules

pytestmark = pytest.mark.django_db
NOBODY = {"by": None, "recorded_by": None}
START = clock.now() - timedelta(days=5)


@pytest.fixture
def shop(db):
    recipe = add_starter(next(iter(STARTERS))).system
    tools = {
        code: add_tool(code=code, name=code, kind=kind, release_system=recipe)
        for code, kind in (("M-1", Kind.MOLD), ("M-2", Kind.MOLD), ("RIM", Kind.INSERT), ("HATCH", Kind.INSERT))
    }
    for tool in tools.values():
        deeds.log_coat(tool, count=5, at=START, **NOBODY)
    deeds.install(tools["RIM"], mold=tools["M-1"], at=START + timedelta(hours=1), **NOBODY)
    return tools


def now_of(tool) -> str:
    return Span.objects.at(clock.now()).get(tool=tool).status


def sound() -> bool:
    return [str(found) for found in differences(rules())] == []


@pytest.fixture
def folds(monkeypatch):
    """How many times a family was folded again."""
    done = []
    fold_again = absorb.fold_again
    monkeypatch.setattr(absorb, "fold_again", lambda *args: done.append(args) or fold_again(*args))
    return done


def test_a_correction_in_one_mold_holds_the_other_that_has_the_insert_now(shop):
    pull = deeds.log_pull(shop["M-1"], came_off="free", at=START + timedelta(days=1), **NOBODY)
    deeds.remove(shop["RIM"], at=START + timedelta(days=2), **NOBODY)
    deeds.install(shop["RIM"], mold=shop["M-2"], at=START + timedelta(days=2), **NOBODY)
    assert now_of(shop["M-2"]) != "held"
    deeds.correct(pull, reason="it was lost", changes={"came_off": "lost"}, **NOBODY)
    assert (now_of(shop["RIM"]), now_of(shop["M-2"])) == ("held", "held")
    assert sound()


def test_putting_in_and_taking_out_is_a_step(shop, folds):
    assert now_of(shop["M-2"]) == "last_pull"
    deeds.remove(shop["RIM"], **NOBODY)
    deeds.hold(shop["RIM"], **NOBODY)
    deeds.install(shop["RIM"], mold=shop["M-2"], **NOBODY)
    assert (now_of(shop["M-1"]), now_of(shop["M-2"])) == ("last_pull", "held")
    assert folds == []
    assert Summary.objects.get(tool=shop["RIM"]).in_mold_of == shop["M-2"]
    assert sound()


def test_an_insert_put_in_at_the_instant_of_a_pull_was_in_it(shop, folds):
    at = START + timedelta(days=1)
    deeds.log_pull(shop["M-2"], came_off="free", at=at, **NOBODY)
    deeds.install(shop["HATCH"], mold=shop["M-2"], at=at, **NOBODY)
    assert len(folds) == 1
    assert Summary.objects.get(tool=shop["HATCH"]).total_pulls == 1
    assert sound()


def test_an_insert_that_left_long_ago_costs_no_fold(shop, folds):
    deeds.remove(shop["RIM"], at=START + timedelta(days=1), **NOBODY)
    deeds.lay_up(shop["M-1"], at=START + timedelta(days=2), **NOBODY)
    deeds.log_pull(shop["M-1"], came_off="free", at=START + timedelta(days=3), **NOBODY)
    assert folds == []
    assert Summary.objects.get(tool=shop["RIM"]).total_pulls == 0
    assert sound()


def test_an_insert_that_left_after_the_lay_up_is_reached_by_the_pull(shop, folds):
    deeds.lay_up(shop["M-1"], at=START + timedelta(days=2), **NOBODY)
    deeds.remove(shop["RIM"], serial="0173", at=START + timedelta(days=3), **NOBODY)
    deeds.log_pull(shop["M-1"], came_off="free", at=START + timedelta(days=4), **NOBODY)
    assert len(folds) == 1
    assert Summary.objects.get(tool=shop["RIM"]).total_pulls == 1
    assert sound()


def test_whose_hands_laid_it_up_follows_a_correction(shop):
    ann, bob = (Person.objects.named(name) for name in ("Ann", "Bob"))
    lay_up = deeds.lay_up(shop["M-1"], by=ann, recorded_by=ann)
    deeds.correct(lay_up, reason="it was Bob", changes={}, by=bob, recorded_by=ann)
    assert Summary.objects.get(tool=shop["M-1"]).laid_up_by == bob
    assert sound()


def test_formal_records_ask_who_held_it_at_the_time(shop):
    Shop(time_zone="UTC", formal_records=True).save()
    ann, bob = (Person.objects.named(name) for name in ("Ann", "Bob"))
    deeds.hold(shop["M-2"], by=ann, recorded_by=ann)
    passed = deeds.inspect(shop["M-2"], passed=True, by=bob, recorded_by=bob)
    with pytest.raises(Refused, match="formal records"):
        deeds.correct(passed, reason="it was Ann", changes={}, by=ann, recorded_by=bob)


@pytest.mark.parametrize("ahead", [timedelta(0), timedelta(minutes=4)], ids=["now", "an entry ahead of the clock"])
def test_a_further_version_lays_the_future_of_mold_and_inserts_anew(shop, ahead):
    deeds.log_pull(shop["M-1"], came_off="free", at=clock.now() + ahead, **NOBODY)
    system = shop["M-1"].release_system
    later = clock.now() + timedelta(days=1)
    columns = {"name": "Wax", "family": "paste_wax", "break_in": "3,3", "max_idle_days": "2"}
    add_version(system, at=clock.now(), columns=columns, valid_from=later)
    laid = Span.objects.at(later).get(tool=shop["M-1"])
    assert (laid.status, laid.pulls_left, laid.from_at) == ("ready", 2, later)
    assert sound()


def test_a_pull_asks_as_much_with_five_entries_as_with_fifty(shop):
    def queries() -> int:
        with CaptureQueriesContext(connection) as asked:
            deeds.log_pull(shop["M-1"], came_off="free", **NOBODY)
        return len(asked)

    for _ in range(5):
        deeds.log_pull(shop["M-1"], came_off="free", **NOBODY)
    few = queries()
    for _ in range(45):
        deeds.log_pull(shop["M-1"], came_off="free", **NOBODY)
    assert queries() == few
