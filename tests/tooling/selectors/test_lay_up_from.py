"""From when a set can be laid up, and by when to start. Source: worked by hand, the working stands in each test."""

from datetime import date, timedelta

import pytest
import time_machine

from tests.tooling.selectors.timetable import (
    BY,
    MONDAY,
    ZONE,
    asked,
    clocks,
    moment,
    open_shop,
    recipe,
    table,
    tool,
)  # fmt: skip
from tooling.models import Kind, RecipeVersion, Shop, Temperature, Tool
from tooling.selectors.lay_up_from import lay_up_from
from tooling.services import deeds
from tooling.words.lay_up_from import sentence
from tooling.words.time_bar import rows

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def morning():
    with time_machine.travel(MONDAY, tick=False):
        yield


def said(found):
    return sentence(found, found.at, ZONE)


def from_then(revision, at=MONDAY):
    """Forward; and backward from what was found, which never wants an earlier start, nor finds it too late."""
    answer = asked(revision, at)
    found = lay_up_from(answer)
    back = lay_up_from(answer, wanted=found.lay_up_at)
    assert (back.cannot, back.lay_up_at) == (None, found.lay_up_at)
    assert (back.starts_at is None) == (found.starts_at is None)
    assert found.starts_at is None or found.at <= found.starts_at <= back.starts_at
    return found


@pytest.fixture
def rims():
    """A mold and a rim that are bare, and a hatch whose three pulls are done."""
    revision = open_shop(hands=1)
    deck = tool(revision, "DECK-1")
    tool(revision, "RIM", kind=Kind.INSERT, into=deck)
    tool(revision, "HATCH7", kind=Kind.INSERT, coats=2, pulls=3)
    deeds.install(Tool.objects.get(code="HATCH7"), mold=deck, at=MONDAY - timedelta(hours=1), **BY)
    return revision


def test_one_hand_goes_round_a_mold_and_two_inserts(rims):
    """DECK-1 and RIM: two coats, 08:00 and 09:20, cured at 11:40. One hand can begin the second of them at 08:20, so
    that it is cured at 12:00 and no earlier; HATCH7 has its one coat meanwhile, from 08:40 at the soonest."""
    found = from_then(rims)
    assert clocks(found.starts_at, found.ready_at, found.lay_up_at) == ["Mon 08:00", "Mon 12:00", "Mon 12:00"]
    assert found.hands == 1
    deck, rim, _hatch = table(found)
    assert sorted([deck[1], rim[1]]) == [
        [("coat", "Mon 08:00", "Mon 08:20", "Mon 09:20"), ("coat", "Mon 09:20", "Mon 09:40", "Mon 11:40")],
        [("coat", "Mon 08:20", "Mon 08:40", "Mon 09:40"), ("coat", "Mon 09:40", "Mon 10:00", "Mon 12:00")],
    ]
    assert said(found) == "Can be laid up from 12:00 if the first coat goes on now"


def test_the_first_work_is_named_of_several_each_kind(rims):
    deeds.see_build_up(Tool.objects.get(code="HATCH7"), at=MONDAY, **BY)
    assert said(from_then(rims)).endswith("if the strip starts now")
    Shop.objects.update(hands=3)
    assert said(from_then(rims)).endswith("if the strip starts and the first coat goes on now")


def test_two_hands_begin_both_at_once(rims):
    """Each as if alone: 08:00 + 20 + 60 + 20 min + 2 h = 11:40. A third hand has nothing to bring forward."""
    for hands in (2, 3):
        Shop.objects.update(hands=hands)
        assert clocks(from_then(rims).lay_up_at) == ["Mon 11:40"]


def test_backward_the_whole_set_is_as_late_as_it_can_be(rims):
    """Wanted Tuesday 08:00: 2 h of cure and 20 min of the last coat run back over the night to Monday 17:00, the end
    of work. One of the two has its coats at 15:20 and 16:40, the other with the one hand at 15:00 and 16:20."""
    found = lay_up_from(asked(rims), wanted=moment("2026-06-02 08:00"))
    deck, rim, _hatch = found.works
    assert sorted(clocks(*(step.starts for step in one.steps)) for one in (deck, rim)) == [
        ["Mon 15:00", "Mon 16:20"], ["Mon 15:20", "Mon 16:40"],
    ]  # fmt: skip
    assert said(found) == f"Start by {clocks(found.starts_at)[0].removeprefix('Mon ')} to lay up tomorrow 08:00"


def test_a_part_in_the_mold_comes_out_first_and_the_coat_follows():
    """Out at 10:30 with the third pull: one coat on mold and hatch, 20 min and 1 h: with two hands 11:50, one 12:10."""
    revision = open_shop(hands=2)
    deck = tool(revision, "DECK-1", coats=2, pulls=2)
    hatch = tool(revision, "HATCH7", kind=Kind.INSERT, coats=2, pulls=2)
    deeds.install(hatch, mold=deck, at=MONDAY - timedelta(hours=2), **BY)
    out = moment("2026-06-01 10:30")
    deeds.lay_up(deck, at=MONDAY - timedelta(hours=1), earliest_pull=out, **BY)
    found = from_then(revision)
    assert clocks(found.starts_at, found.lay_up_at) == ["Mon 10:30", "Mon 11:50"]
    assert [(one.out_at, one.out_known) for one in found.works] == [(out, True)] * 2
    assert said(found) == (
        "Can be laid up from 11:50 at the earliest: the part in DECK-1 may come out from 10:30, if it is hard then"
    )
    assert found.assumed[0] == (
        "Reckoned as if the part in DECK-1 is hard at 10:30, comes off free and is out when work starts. "
        "A hard pull makes more work."
    )
    first = rows(found)[0]
    assert (first.what, first.inside, first.ends) == ("a part in it, not before", True, out)
    Shop.objects.update(hands=1)
    assert clocks(from_then(revision).lay_up_at) == ["Mon 12:10"]
    wanted = lay_up_from(asked(revision), wanted=moment("2026-06-01 12:00"))
    assert (wanted.cannot.code, said(wanted)) == (
        "too_late", "Too late for 12:00: it can be laid up from 12:10 at the earliest.",
    )  # fmt: skip


def test_a_part_that_only_has_to_come_out():
    revision = open_shop()
    deck = tool(revision, "DECK-1", coats=2)
    deeds.lay_up(deck, at=MONDAY - timedelta(hours=1), earliest_pull=moment("2026-06-01 10:30"), **BY)
    assert said(from_then(revision)) == (
        "Can be laid up from 10:30 at the earliest: the part in DECK-1 may come out then, if it is hard"
    )
    late = from_then(revision, moment("2026-06-01 11:00"))
    assert (late.now, late.lay_up_at) == (False, late.at)
    assert late.assumed == (
        "Reckoned as if the part in DECK-1 is hard and comes off free. A hard pull makes more work.",
    )
    assert said(late) == "Can be laid up as soon as the part in DECK-1 is hard and out"


def test_a_part_of_which_nobody_said_when_it_comes_out():
    revision = open_shop()
    deck = tool(revision, "DECK-1", coats=2, pulls=2)
    deeds.lay_up(deck, at=MONDAY - timedelta(hours=1), **BY)
    found = from_then(revision)
    assert (clocks(found.lay_up_at), found.works[0].out_known) == (["Mon 09:20"], False)
    assert found.assumed[:1] == (
        "Nobody said when the part in DECK-1 may come out: reckoned as if it were hard and free now. "
        "A hard pull makes more work.",
    )


def warm(degrees):
    Temperature.objects.create(value_c=degrees, at=MONDAY - timedelta(minutes=20), recorded_at=MONDAY)


def test_a_cold_shop_makes_waits_longer_not_work():
    """13 °C against 23 °C: twice. 20 min, 2 x 60 min, 20 min, 2 x 2 h: 08:00 + 6 h 40 min = 14:40."""
    revision = open_shop(reference_c=23, low_c=10)
    tool(revision, "DECK-1")
    assert from_then(revision).assumed == (
        "Shop temperature: not measured today. Reckoned with the waits of the recipe as they stand.",
    )
    warm(13)
    found = from_then(revision)
    assert (clocks(found.lay_up_at), found.assumed) == (
        ["Mon 14:40"],
        (
            "Reckoned with 13 °C, measured today 07:40, as if it stayed so. If it gets cooler it takes longer: check "
            "that the coat is hard.",
            "13 °C in the shop: the waits of WAX take 2 times as long.",
        ),
    )  # fmt: skip
    RecipeVersion.objects.update(low_c=15)
    found = lay_up_from(asked(revision))
    assert (found.cannot.code, found.lay_up_at) == ("shop_cold", None)
    assert said(found).startswith("DECK-1: 13 °C in the shop, measured today 07:40.")
    assert said(found).endswith("Warm the shop first, and measure again.")
    RecipeVersion.objects.update(low_c=None, reference_c=40)
    assert "too cold to reckon the waits of WAX. Warm the shop first" in said(lay_up_from(asked(revision)))


def test_a_film_that_would_be_too_old_goes_on_once_more():
    """A film of 08:00 is good until 12:00. The hatch is coated at 08:00, 20 min and 8 h: 16:20. A film that is good
    then is on at 12:20 or later: 12:10 to 12:20."""
    revision = open_shop(film_every_pull=True)
    recipe("SEMI", family="semi_permanent", cure_hours_touch_up=8)
    deck = tool(revision, "DECK-1", coats=2)
    deeds.lay_film(deck, at=MONDAY - timedelta(seconds=1), **BY)
    tool(revision, "HATCH7", kind=Kind.INSERT, coats=2, pulls=3, system="SEMI")
    deeds.install(Tool.objects.get(code="HATCH7"), mold=deck, at=MONDAY - timedelta(hours=1), **BY)
    found = from_then(revision)
    assert table(found)[0] == ("DECK-1", [("film", "Mon 12:10", "Mon 12:20", "Mon 12:50")])
    assert (clocks(found.lay_up_at), found.hands) == (["Mon 16:20"], 1)
    assert said(found) == "Can be laid up from 16:20 if the coat goes on now"


def test_a_cure_over_the_night_in_which_the_clock_is_set_back():
    """Sat 24 October 2026, 16:20 to 16:40, and 12 h of cure: on clocks that are set back at two, Sun 03:40."""
    revision = open_shop(week="Mon-Sun 08:00-17:00", cure_hours_touch_up=12, max_idle_days=None)
    tool(revision, "DECK-1", coats=2, pulls=3)
    found = from_then(revision, moment("2026-10-24 16:20"))
    assert clocks(found.starts_at, found.ready_at, found.lay_up_at) == ["Sat 16:20", "Sun 03:40", "Sun 08:00"]
    step = found.works[0].steps[0]
    assert step.waits_until - step.ends == timedelta(hours=12)


def test_a_tool_that_waits_for_its_day_and_a_cure_that_runs():
    revision = open_shop()
    deck = tool(revision, "DECK-1", coats=1, not_before=date(2026, 6, 3))
    found = from_then(revision)
    # One more coat today, and the day it waits for begins before the shop opens.
    assert clocks(found.ready_at, found.lay_up_at) == ["Wed 00:00", "Wed 08:00"]
    Tool.objects.update(not_before=None)
    deeds.log_coat(deck, at=MONDAY, **BY)
    found = from_then(revision, MONDAY + timedelta(minutes=10))
    assert (found.starts_at, clocks(found.works[0].ready_from)) == (None, ["Mon 10:00"])
    assert said(found) == "Can be laid up from 10:00: the coat on DECK-1 cures until 10:00"
    assert found.assumed == (
        "The waits of WAX are reckoned as they stand in the recipe. In a cooler shop they take longer: check that coat "
        "and film are hard and dry.",
    )


@pytest.mark.parametrize("limit", ["max_idle_days", "max_coat_age_days"])
def test_a_coat_waits_for_a_far_day_so_that_its_own_days_are_not_over(limit):
    """From Wed 1 July with 7 days, the last of which is good: a coat on Wed 24 June or later. One day sooner and the
    mold would want another; what the shop is told is what it gets."""
    revision = open_shop(**{"max_idle_days": None, limit: 7})
    deck = tool(revision, "DECK-1", coats=2, pulls=3, not_before=date(2026, 7, 1))
    found = lay_up_from(asked(revision, moment("2026-06-20 09:00")))
    assert (found.starts_at, found.lay_up_at) == (moment("2026-06-24 08:00"), moment("2026-07-01 08:00"))
    with time_machine.travel(found.lay_up_at, tick=False):
        deeds.log_coat(deck, at=found.works[0].steps[-1].ends, **BY)
        assert lay_up_from(asked(revision, found.lay_up_at)).now


def test_a_coat_under_a_film_is_judged_as_of_the_lay_up():
    """Coated on 20 May with 12 days: good on Mon 1 June. The hatch cures over the night: on Tue 2 June the mold wants a
    coat as well as a film."""
    revision = open_shop(film_every_pull=True, max_idle_days=12)
    recipe("SEMI", family="semi_permanent", cure_hours_touch_up=12)
    deck = tool(revision, "DECK-1", coats=2)
    assert [step.name for step in lay_up_from(asked(revision)).works[0].steps] == ["film"]
    tool(revision, "HATCH7", kind=Kind.INSERT, coats=2, pulls=3, system="SEMI")
    deeds.install(Tool.objects.get(code="HATCH7"), mold=deck, at=MONDAY - timedelta(hours=1), **BY)
    assert [step.name for step in lay_up_from(asked(revision)).works[0].steps] == ["coat", "film"]
