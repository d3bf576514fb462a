"""Where no time can be said, what to change; and what a time is reckoned with that nobody said."""

from datetime import timedelta

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.tooling.selectors.timetable import BY, MONDAY, ZONE, asked, clocks, moment, open_shop, tool
from tooling.models import Kind, RecipeVersion, SetLine, Shop, Tool
from tooling.selectors import lay_up_from as times
from tooling.selectors.lay_up_from import lay_up_from, of_each
from tooling.services import deeds
from tooling.services.tools import add_tool
from tooling.words.lay_up_from import sentence

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def morning():
    with time_machine.travel(MONDAY, tick=False):
        yield


@pytest.fixture
def deck():
    """A set whose mold wants one coat."""
    revision = open_shop()
    tool(revision, "DECK-1", coats=2, pulls=3)
    return revision


def found(revision, **wanted):
    return lay_up_from(asked(revision), **wanted)


def why(revision, **wanted):
    answer = found(revision, **wanted)
    assert (answer.lay_up_at, answer.starts_at, answer.works) == (None, None, ())
    return answer.cannot.code, sentence(answer, answer.at, ZONE)


def test_what_no_work_mends_says_what_does(deck):
    mold = Tool.objects.get()
    deeds.hold(mold, reason="cracked", at=MONDAY - timedelta(hours=1), **BY)
    assert why(deck)[0] == "held"
    assert (found(deck).cannot.tool, found(deck).cannot.deed.name) == (mold, "looked_at")
    deeds.inspect(mold, passed=True, at=MONDAY - timedelta(minutes=50), **BY)
    deeds.lend(mold, person="the club", at=MONDAY - timedelta(minutes=40), **BY)
    assert why(deck)[1].startswith("DECK-1: Lent to the club.")
    deeds.hand_back(mold, at=MONDAY - timedelta(minutes=30), **BY)
    assert found(deck).cannot is None


def test_an_insert_goes_into_its_mold_meanwhile(deck):
    """The mold wants its coat, ready 09:20; the insert has its own and is put in beside, or holds it up alone."""
    hatch, mold = tool(deck, "HATCH7", kind=Kind.INSERT, coats=2), Tool.objects.get(code="DECK-1")
    first = found(deck)
    assert (clocks(first.lay_up_at), first.assumed[-1:]) == (["Mon 09:20"], ("HATCH7: Put it into DECK-1.",))
    deeds.log_coat(mold, at=MONDAY - timedelta(hours=2), **BY)
    later = found(deck)
    assert (later.now, later.lay_up_at, later.put_in) == (False, MONDAY, ("HATCH7",))
    assert sentence(later, MONDAY, ZONE) == "Can be laid up as soon as HATCH7 is in its mold"
    deck.tool_set.filter(tool=hatch).update(required=False)
    assert (found(deck).now, [one.tool.code for one in found(deck).works]) == (True, ["DECK-1"])
    deeds.install(hatch, mold=mold, at=MONDAY, **BY)
    assert (found(deck).now, [one.tool.code for one in found(deck).works]) == (True, ["DECK-1", "HATCH7"])


def test_an_insert_in_another_mold_comes_out_with_the_part_of_that_one(deck):
    hatch, other = tool(deck, "HATCH7", kind=Kind.INSERT, coats=2), tool(deck, "OTHER", coats=2)
    deck.tool_set.filter(tool=other).delete()
    deeds.install(hatch, mold=other, at=MONDAY - timedelta(hours=3), **BY)
    deeds.lay_up(other, at=MONDAY - timedelta(hours=2), earliest_pull=moment("2026-06-01 11:00"), **BY)
    assert clocks(found(deck).lay_up_at) == ["Mon 11:00"]
    assert found(deck).assumed[-1:] == ("HATCH7: Take it out of OTHER, and put it into DECK-1.",)
    deeds.move(hatch, place=None, at=MONDAY - timedelta(hours=1), **BY)
    deeds.hold(hatch, reason="cracked", at=MONDAY - timedelta(hours=1), **BY)
    assert why(deck)[0] == "held"


def test_an_insert_that_nobody_can_find_and_a_tool_without_a_recipe(deck):
    hatch = tool(deck, "HATCH7", kind=Kind.INSERT, coats=2)
    deeds.move(hatch, place=None, at=MONDAY - timedelta(hours=1), **BY)
    assert (why(deck)[0], found(deck).cannot.tool) == ("place_unknown", hatch)
    deck.tool_set.all().delete()
    tool(deck, "NEW")
    assert found(deck).cannot is None
    RecipeVersion.objects.all().delete()
    assert why(deck) == ("not_prepared", "NEW has no release recipe: choose one first.")


def test_a_set_without_a_mold_and_a_trim_mask_that_holds_up_nothing(deck):
    mask = add_tool(code="TRIM", kind=Kind.TRIM_MASK, name="Trim")
    SetLine.objects.create(revision=deck, role="trim_mask", tool=mask)
    deeds.hold(mask, reason="worn", at=MONDAY - timedelta(hours=1), **BY)
    assert (asked(deck).usable, clocks(found(deck).lay_up_at)) == (False, ["Mon 09:20"])
    assert found(deck).besides == ("TRIM may not be used now: the part can be laid up, not yet trimmed.",)
    deck.tool_set.filter(role="mold").delete()
    assert why(deck) == ("no_mold", "No mold stands in this tool set.")
    deck.tool_set.all().delete()
    assert why(deck)[0] == "no_set"


def test_what_the_lead_was_told_and_what_is_not_counted_stand_beside_a_time(deck):
    assert (found(deck).besides, "Hardware" in found(deck).by_the_record) == ((), False)
    mold = Tool.objects.get()
    deeds.tell_lead(mold, note="a soft spot", at=MONDAY - timedelta(hours=1), **BY)
    SetLine.objects.create(revision=deck, role="hardware", item="8 bolts M6")
    assert found(deck).besides == ("Told to the lead, not seen yet: DECK-1.",)
    assert found(deck).by_the_record.endswith("Hardware is not counted.")


def test_hours_that_nobody_wrote_down_are_missed_only_where_there_is_something_to_do(deck):
    Shop.objects.update(week="")
    assert why(deck) == (
        "no_week", "No shop hours are written down: say in the shop’s settings when the shop is open.",
    )  # fmt: skip
    deeds.log_coat(Tool.objects.get(), at=MONDAY, **BY)
    assert why(deck)[0] == "no_week"
    assert found_later(deck).now
    for week, code in (("Mon 24:00-24:00", "wrong_week"), ("Mon-Fri 08:00-08:10", "too_long")):
        Shop.objects.update(week=week)
        deeds.want_wax(Tool.objects.get(), at=MONDAY, **BY)
        assert why(deck)[0] == code
    Shop.objects.update(week="Mon 08:00-17:00", closed_days=mondays())
    assert why(deck)[0] == "no_hours"


def mondays():
    days = (MONDAY.date() + timedelta(weeks=week) for week in range(-60, 61))
    return ", ".join(day.isoformat() for day in days)


def found_later(revision):
    return lay_up_from(asked(revision, MONDAY + timedelta(hours=2)))


def test_hands_that_nobody_counted_are_one(deck):
    Shop.objects.update(hands=None)
    assert found(deck).assumed[1:] == ("The shop’s settings do not say how many hands there are: reckoned with one.",)
    deeds.log_coat(Tool.objects.get(), at=MONDAY - timedelta(hours=2), **BY)
    assert (found(deck).now, found(deck).assumed) == (True, ())


def test_a_wanted_time_that_is_past_too_near_or_nothing_is_to_do_for(deck):
    assert why(deck, wanted=MONDAY - timedelta(hours=1)) == ("wanted_past", "07:00 is past: choose a later time.")
    # one coat, 20 min and 1 h
    assert why(deck, wanted=moment("2026-06-01 09:19"))[0] == "too_late"
    just = found(deck, wanted=moment("2026-06-01 09:20"))
    assert (just.starts_at, sentence(just, just.at, ZONE)) == (MONDAY, "Start now to lay up 09:20")
    deeds.log_coat(Tool.objects.get(), at=MONDAY - timedelta(hours=2), **BY)
    nothing = found(deck, wanted=moment("2026-06-02 09:20"))
    assert sentence(nothing, nothing.at, ZONE) == "Nothing to do before: can be laid up tomorrow 09:20"


def test_a_wanted_time_at_which_the_shop_is_closed_is_said_with_when_it_is_open(deck):
    assert found(deck, wanted=moment("2026-06-12 17:00")).assumed[0] == (
        "The shop is closed 12 June 17:00: it is open until 12 June 17:00, and again from 15 June 08:00."
    )
    assert "closed" not in " ".join(found(deck, wanted=moment("2026-06-12 16:59")).assumed)
    Shop.objects.update(closed_days="2026-06-02")
    found_then = found(deck, wanted=moment("2026-06-02 09:00"))
    assert "it is open until 17:00, and again from Wed 08:00" in found_then.assumed[0]
    assert clocks(found_then.starts_at) == ["Mon 16:40"]
    deeds.log_coat(Tool.objects.get(), at=MONDAY - timedelta(hours=2), **BY)
    Shop.objects.update(week="")
    assert "closed" not in " ".join(found(deck, wanted=moment("2026-06-02 09:00")).assumed)


def test_limits_of_days_that_run_out_before_the_lay_up_are_reckoned_with(deck):
    """Coated on Monday 1 June with 7 idle days: on the 9th it wants a coat, 20 min and 1 h before noon: 10:40."""
    deeds.log_coat(Tool.objects.get(), at=MONDAY - timedelta(hours=2), **BY)
    assert found(deck).now
    RecipeVersion.objects.update(max_idle_days=7)
    near, far = (found(deck, wanted=moment(f"2026-06-{day} 12:00")) for day in ("08", "09"))
    assert near.starts_at is None
    assert (clocks(far.starts_at), [step.name for step in far.works[0].steps]) == (["Tue 10:40"], ["coat"])


def test_a_plan_that_does_not_settle_is_not_handed_out(deck, monkeypatch):
    deeds.log_coat(Tool.objects.get(), at=MONDAY - timedelta(hours=2), **BY)
    RecipeVersion.objects.update(max_idle_days=7)
    monkeypatch.setattr(times, "_ROUNDS", 1)
    assert why(deck, wanted=moment("2026-06-09 12:00"))[0] == "unsettled"


def test_the_times_of_any_number_of_sets_are_found_in_what_was_read(deck):
    answers = [asked(deck), asked(deck)]
    with CaptureQueriesContext(connection) as queries:
        times = of_each(answers)
        assert times[deck.pk] == lay_up_from(answers[0])
    assert (len(queries), times.keys()) == (0, {deck.pk})
