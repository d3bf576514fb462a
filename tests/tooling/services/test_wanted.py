"""The list of what is wanted: what comes on it, is changed and taken off, and what ticks itself off."""

from datetime import date, datetime, timedelta
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.errors import Refused, TokenReused
from tests.tooling.views.conftest import morning as morning
from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Part, PartRevision, Person, Wanted
from tooling.selectors.wanted import off_lately, on_list
from tooling.services import deeds, wanted
from tooling.words.wanted import far

pytestmark = pytest.mark.django_db
SINCE = ago(hours=6)


@pytest.fixture
def part(morning):
    made = Part.objects.create(number="Deck-1")
    for revision in ("A", "B"):
        PartRevision.objects.create(part=made, revision=revision, name="Deck")
    return made


@pytest.fixture
def ines():
    return Person.objects.named("Ines")


@pytest.fixture
def two(part, ines):
    """Two decks are wanted since the night."""
    return wanted.want(part, by=ines, at=SINCE, count=2)


@pytest.fixture
def deck(morning):
    return mold("DECK", morning)


def listed(at: datetime = NOW):
    return on_list(at, NOW.tzinfo)


def said(at: datetime = NOW):
    return [far(one.progress, at, NOW.tzinfo) for one in listed(at)]


def laid_up(tool, hours, part="DECK-1", **more):
    return do("lay_up", tool, at=ago(hours=hours), part=part, **more)


def pulled(tool, hours, part="DECK-1", **more):
    return do("log_pull", tool, at=ago(hours=hours), part=part, **{"came_off": "free", **more})


def test_what_is_laid_up_and_pulled_ticks_itself_off_and_is_gone_the_next_day(two, deck):
    assert said() == [""]
    laid_up(deck, 5)
    assert said() == ["1 of 2 laid up."]
    pulled(deck, 4)
    assert said() == ["1 of 2 pulled."]
    laid_up(deck, 3)
    assert said() == ["1 of 2 pulled, 1 more laid up."]
    pulled(deck, 2)
    assert said() == ["Laid up and pulled, 04:40."]
    assert said(NOW + timedelta(days=1)) == []
    assert Wanted.objects.on_list().exists()  # read, not written


def test_a_void_or_a_correction_takes_the_tick_away(two, deck):
    first = laid_up(deck, 5)
    deeds.void(first, reason="wrong mold", by=None, recorded_by=None)
    assert said() == [""]
    pull = pulled(deck, 4)
    assert said() == ["1 of 2 pulled."]
    deeds.correct(pull, reason="the hatch", changes={"part": "HATCH"}, recorded_by=None)
    assert said() == [""]


def test_what_is_written_late_counts_from_when_it_was(two, deck):
    laid_up(deck, 8)
    pulled(deck, 1)
    assert said() == [""]  # begun before anybody wanted it
    laid_up(mold("LATE", None, pulls=None), 5)
    assert said() == ["1 of 2 laid up."]


def test_what_is_lost_given_up_or_of_another_part_does_not_count(two, deck):
    laid_up(deck, 5)
    pulled(deck, 4, came_off="lost")
    laid_up(deck, 3)
    do("abandon", deck, at=ago(hours=2))
    laid_up(deck, 1, part="HATCH")
    old = mold("OLD", None, pulls=None)
    laid_up(old, 3)
    do("retire", old, at=ago(hours=2), reason="cracked")
    other = mold("OTHER", None, pulls=None)
    laid_up(other, 3)
    pulled(other, 2, part="HULL")
    assert said() == [""]


def test_two_halves_make_one_and_several_cavities_several(two, morning):
    pair = [mold(code, morning, matched_set="Deck") for code in ("L", "R")]
    who = {"by": None, "recorded_by": None, "part": "deck-1"}
    deeds.lay_up_set(pair, at=ago(hours=5), **who)
    assert said() == ["1 of 2 laid up."]
    assert listed()[0].progress.inside == ("L", "R")
    three = mold("THREE", morning)
    laid_up(three, 4)
    pulled(three, 3, count=3)
    assert said() == ["Laid up and pulled, 03:40."]


def test_a_mold_with_several_serial_numbers_counts_as_many_when_it_is_pulled(two, deck):
    laid_up(deck, 5, serial="Q1; Q2")
    assert said() == ["2 of 2 laid up."]
    pulled(deck, 4, serial="Q1, Q2", count=1)
    assert said() == ["Laid up and pulled, 02:40."]


def test_a_part_is_not_pulled_while_its_other_half_holds_it(two, morning):
    left, right = (mold(code, morning, matched_set="Deck") for code in "LR")
    laid_up(left, 8)  # before it was wanted
    laid_up(right, 5)
    for half, hours in ((left, 4.5), (right, 4)):
        pulled(half, hours)
    assert said() == [""]
    for half in (left, right):
        laid_up(half, 3)
    pulled(left, 2)
    assert said() == ["1 of 2 laid up."]
    pulled(right, 1)
    assert said() == ["1 of 2 pulled."]


def test_at_one_instant_a_correction_stands_where_its_first_stood(two, deck):
    first = laid_up(deck, 3)
    pulled(deck, 3)
    for serial in ("7", "8"):
        first = deeds.correct(first, reason="number", changes={"serial": serial}, recorded_by=None)
    assert said() == ["1 of 2 pulled."]
    deeds.lay_up(deck, at=ago(hours=3), part="DECK-1", by=None, recorded_by=None)
    assert said() == ["1 of 2 pulled, 1 more laid up."]


def test_a_number_is_known_in_any_case_and_what_was_laid_up_in_the_minute_counts(ines, deck):
    made = Part.objects.create(number="KÄ-1")
    wanted.want(made, by=ines, at=ago(hours=3) + timedelta(seconds=30))
    laid_up(deck, 3, part="kä-1")
    assert said() == ["1 of 1 laid up."]


def test_a_part_stands_on_the_list_once_until_it_is_done(two, deck, part, ines):
    with pytest.raises(Refused, match="Deck-1 is on the list already, 2 of it"):
        wanted.want(part, by=ines, at=NOW)
    for hour in (5, 4):
        pulled(deck, hour)
    tomorrow = NOW + timedelta(days=1)
    again = wanted.want(part, by=ines, at=tomorrow)
    two.refresh_from_db()
    assert (two.off_at, two.off_by) == (ago(hours=4), None)
    assert [one.row for one in listed(tomorrow)] == [again]
    assert off_lately(tomorrow) == [two]


def test_a_pull_puts_away_what_is_done_for_a_week(part, deck, ines, monkeypatch):
    row = wanted.want(part, by=ines, at=ago(days=9))
    done = pulled(deck, 8 * 24)
    row.refresh_from_db()
    assert row.off_at is None  # what was written just now may be void
    pulled(deck, 1)
    row.refresh_from_db()
    assert (row.off_at, row.off_by) == (done.at, None)


def test_how_many_is_changed_and_what_was_laid_up_still_counts(two, deck, part, ines):
    laid_up(deck, 5)
    wanted.change(two, by=ines, at=NOW, count=3, revision=part.revisions.first(), day=date(2026, 5, 13), read="2")
    assert said() == ["1 of 3 laid up."]
    change = part.changes.get()
    assert (change.before, change.after, change.who) == ("2", "3, A, 2026-05-13", ines)
    with pytest.raises(Refused, match="meanwhile: it is 3, A"):
        wanted.change(two, by=ines, at=NOW, count=4, revision=None, day=None, read="2")
    wanted.change(two, by=ines, at=NOW + timedelta(days=9), count=4, revision=None, day=date(2026, 5, 13))


def test_taking_off_is_kept_and_rubbed_out_for_five_minutes(two, part, ines):
    wanted.take_off(two, by=ines, at=NOW)
    assert (said(), off_lately(NOW)) == ([], [two])
    with pytest.raises(Refused, match="five minutes"):
        wanted.rub_out(two, by=ines, at=NOW + timedelta(minutes=6))
    with pytest.raises(Refused, match="five minutes"):
        wanted.rub_out(two, by=Person.objects.named("Oskar"), at=NOW)
    wanted.rub_out(two, by=ines, at=NOW + timedelta(minutes=4))
    assert said() == [""]
    wanted.take_off(two, by=ines, at=NOW)
    with pytest.raises(Refused, match="off the list by now"):
        wanted.change(two, by=ines, at=NOW, count=1, revision=None, day=None)
    wanted.want(part, by=ines, at=NOW)
    with pytest.raises(Refused, match="on the list already"):
        wanted.rub_out(two, by=ines, at=NOW)


@pytest.mark.parametrize("wrong", [{"count": 0}, {"count": -1}, {"count": 10**9}, {"day": date(2026, 5, 11)}])
def test_what_cannot_be_wanted_is_said_and_nothing_is_written(part, ines, wrong):
    with pytest.raises(Refused):
        wanted.want(part, by=ines, at=NOW, **wrong)
    row = wanted.want(part, by=ines, at=NOW)
    with pytest.raises(Refused):
        wanted.change(row, by=ines, at=NOW, **{"count": 1, "revision": None, "day": None, **wrong})
    row.refresh_from_db()
    assert (row.count, row.day) == (1, None)


def test_the_same_form_twice_is_one_and_with_something_else_it_is_refused(part, ines):
    same = {"by": ines, "at": NOW, "token": uuid4()}
    assert wanted.want(part, **same) == wanted.want(part, **same)
    with pytest.raises(TokenReused):
        wanted.want(part, count=2, **same)
    assert Wanted.objects.count() == 1


@pytest.fixture
def at_once(monkeypatch):
    """As on a server where what others write is there only when the row is written: the first looks see nothing."""

    def blind(name, times=1):
        look, left = getattr(wanted, name), iter(range(times))
        monkeypatch.setattr(wanted, name, lambda row: None if next(left, None) is not None else look(row))

    return blind


def test_what_comes_in_twice_at_once_is_one(part, ines, at_once):
    same = {"by": ines, "at": NOW, "token": uuid4()}
    first = wanted.want(part, **same)
    at_once("_answered", 2)
    at_once("_refuse_twice")
    assert wanted.want(part, **same) == first


def test_two_at_once_are_refused_in_words(two, part, ines, at_once):
    at_once("_refuse_twice")
    with pytest.raises(Refused, match="Deck-1 is on the list already, 2 of it"):
        wanted.want(part, by=ines, at=NOW)


def test_rubbing_out_while_it_comes_on_anew_is_refused_in_words(two, part, ines, at_once):
    wanted.take_off(two, by=ines, at=NOW)
    wanted.want(part, by=ines, at=NOW)
    at_once("_refuse_twice")
    with pytest.raises(Refused, match="on the list already"):
        wanted.rub_out(two, by=ines, at=NOW)


def test_it_costs_as_many_queries_for_thirty_with_histories_as_for_one(two, deck, ines):
    laid_up(deck, 5)
    do("abandon", deck, at=ago(hours=4))
    with CaptureQueriesContext(connection) as one:
        listed()
    for number in range(29):
        made = Part.objects.create(number=f"P-{number}")
        PartRevision.objects.create(part=made, name="Part")
        wanted.want(made, by=ines, at=SINCE)
        pulled(mold(f"M-{number}", None, pulls=2), 2, part=made.number)
    with CaptureQueriesContext(connection) as thirty:
        assert len(listed()) == 30
    assert len(thirty) == len(one) <= 4
