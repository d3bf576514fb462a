"""A place is counted: what is met, missed and not known, what is not missing, and how a count ends and goes on."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.errors import Refused
from tests.tooling.views.conftest import morning as morning
from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import CountMark, Entry, Person, Place, PlaceCount
from tooling.selectors import place_counts as asked
from tooling.services import deeds, place_counts
from tooling.services.whole_check import findings

pytestmark = pytest.mark.django_db
SINCE = ago(minutes=30)


@pytest.fixture
def rack(morning):
    """Two shelves of a rack: DECK, HULL and SEAT are at home on the first; T-LOCK is in another rack."""
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    first, second = (Place.objects.create(code=f"B-{n}", name=f"Shelf {n}", parent=rack) for n in (1, 2))
    other = Place.objects.create(code="C-1", name="Rack C, shelf 1")
    for code, place in (("DECK", first), ("HULL", first), ("SEAT", first), ("T-LOCK", other)):
        setattr(rack, code.replace("-", "_"), mold(code, morning, pulls=None, place=place))
    rack.first, rack.second, rack.other = first, second, other
    return rack


@pytest.fixture
def ines():
    return Person.objects.named("Ines")


@pytest.fixture
def count(rack, ines):
    return place_counts.begin(rack, by=ines, at=SINCE)


def see(count, tool, place, **more):
    return place_counts.see(count, tool, place=place, by=None, recorded_by=None, **more)


def page(count, at=NOW):
    return asked.count_page(count.number, at)


def codes(lines):
    return [line.tool.code for line in lines]


def sound():
    return [str(one) for one in findings()] == []


def test_what_is_met_is_seen_and_in_its_history(count, rack):
    entry = see(count, rack.DECK, rack.first)
    assert (entry.kind, entry.payload) == ("moved", {"place": rack.first.pk, "home": False, "counted": 1})
    found = page(count)
    assert (codes(found.seen), codes(found.not_met), found.elsewhere) == (["DECK"], ["HULL", "SEAT"], [])
    assert (found.met, found.expected) == (1, 3)
    assert see(count, rack.DECK, rack.first) == entry
    assert see(count, rack.DECK, rack.second) != entry
    assert sound()


def test_what_has_its_home_elsewhere_is_said_until_it_is_mended(count, rack):
    see(count, rack.T_LOCK, rack.second)
    assert codes(page(count).elsewhere) == ["T-LOCK"]
    assert (page(count).met, page(count).expected) == (0, 3)
    do("change_home", rack.T_LOCK, place=rack.second)
    assert page(count).elsewhere == []
    do("move", rack.T_LOCK, place=rack.other)
    assert codes(page(count).seen) == ["T-LOCK"]


def test_another_shelf_than_its_own_is_elsewhere_and_the_rack_itself_is_not(count, rack):
    see(count, rack.DECK, rack.second)
    see(count, rack.HULL, rack)
    assert codes(page(count).elsewhere) == ["DECK"]


def test_without_the_tag_of_a_shelf_a_tool_is_where_it_was_known_to_lie(count, rack):
    do("move", rack.DECK, place=rack.second)
    do("move", rack.HULL, place=rack.other)
    met = [asked.where_met(page(count), tool, None) for tool in (rack.DECK, rack.HULL, rack.T_LOCK)]
    assert met == [rack.second, rack.first, rack]
    assert asked.where_met(page(count), rack.DECK, rack.first) == rack.first


def test_what_is_put_there_meanwhile_is_met_as_well(count, rack):
    do("move", rack.HULL, place=rack.first)
    assert codes(page(count).seen) == ["HULL"]


def test_lent_in_a_mold_or_in_use_elsewhere_is_not_missing(count, rack, morning):
    do("lend", rack.DECK, person="Yard", at=ago(hours=2))
    do("lay_up", rack.HULL, at=ago(hours=1))
    do("move", rack.HULL, place=rack.other, at=ago(hours=1))
    rim = mold("RIM", morning, kind="insert", pulls=None, place=rack.first)
    do("install", rim, mold=rack.HULL)
    found = page(count)
    assert (codes(found.excused), codes(found.not_met)) == (["DECK", "HULL", "RIM"], ["SEAT"])
    assert [entry.tool.code for entry in place_counts.end(count, by=None, recorded_by=None)] == ["SEAT"]
    see_later = place_counts.begin(rack, by=None)
    see(see_later, rack.DECK, rack.first)
    rack.DECK.summary.refresh_from_db()
    assert not rack.DECK.summary.lent


def test_at_the_end_what_was_not_met_is_missing_and_keeps_another_place_that_is_known(count, rack, ines):
    do("move", rack.HULL, place=rack.other)
    see(count, rack.DECK, rack.first)
    written = place_counts.end(count, by=ines, recorded_by=ines)
    assert [(one.tool.code, one.payload) for one in written] == [
        ("HULL", {"seen": False, "counted": 1}), ("SEAT", {"counted": 1})
    ]  # fmt: skip
    for tool, lies in ((rack.HULL, rack.other.pk), (rack.SEAT, None)):
        tool.summary.refresh_from_db()
        assert (tool.summary.lies, tool.summary.home) == (lies, rack.first)
    count.refresh_from_db()
    assert (count.ended_at, count.ended_by) == (NOW, ines)
    assert place_counts.end(count, by=ines, recorded_by=ines) == []
    assert codes(page(count).not_met) == ["HULL", "SEAT"]
    with pytest.raises(Refused, match="ended"):
        see(count, rack.SEAT, rack.first)
    assert sound()


def test_an_ended_count_says_what_was_so_at_its_end_and_apart_from_that_what_is_so_now(count, rack):
    for tool in (rack.DECK, rack.T_LOCK):
        see(count, tool, rack.first)
    place_counts.end(count, by=None, recorded_by=None)
    with time_machine.travel(NOW + timedelta(days=1), tick=False):
        do("move", rack.T_LOCK, place=rack.other)
        do("change_home", rack.DECK, place=rack.other)
        do("move", rack.SEAT, place=rack.first)
        do("retire", rack.T_LOCK, reason="worn")
        found = page(count, NOW + timedelta(days=1))
    assert (codes(found.seen), codes(found.not_met)) == (["DECK", "T-LOCK"], ["HULL", "SEAT"])
    assert [(line.tool.code, line.home, line.retired) for line in found.elsewhere] == [("T-LOCK", rack.other, False)]
    assert (found.met, found.expected) == (1, 3)
    assert [(line.tool.code, line.fits) for line in found.today] == [("HULL", True), ("SEAT", True), ("T-LOCK", True)]


def test_one_that_is_not_there_is_missed_at_once_and_may_turn_up_after_all(count, rack):
    token = uuid4()
    said = {"by": None, "recorded_by": None, "token": token}
    first = place_counts.miss(count, rack.SEAT, **said)
    assert place_counts.miss(count, rack.SEAT, **said) == first
    assert [line.missed for line in page(count).not_met] == [False, False, True]
    see(count, rack.SEAT, rack.first)
    with pytest.raises(Refused, match="SEAT"):
        place_counts.miss(count, rack.SEAT, by=None, recorded_by=None)
    assert codes(page(count).seen) == ["SEAT"]


def test_who_rubs_the_entry_out_takes_the_line_out(count, rack):
    entry = see(count, rack.DECK, rack.first)
    do("void", entry, reason="the wrong tag")
    assert (page(count).seen, codes(page(count).not_met)) == ([], ["DECK", "HULL", "SEAT"])
    assert sound()


def test_a_correction_takes_the_line_along(count, rack):
    entry = see(count, rack.DECK, rack.first)
    do("correct", entry, reason="one higher", changes={"place": rack.second})
    assert [line.place for line in page(count).seen] == [rack.second]
    deeds.put_right(Entry.objects.latest("pk"), tool=rack.HULL, reason="wrong tag", by=None, recorded_by=None)
    assert codes(page(count).seen) == ["HULL"]
    assert sound()


def test_what_is_corrected_to_another_place_than_the_counted_one_is_in_the_count_no_more(count, rack):
    entry = see(count, rack.DECK, rack.first)
    new = do("correct", entry, reason="the wrong shelf", changes={"place": rack.other})
    assert new.payload == {"place": rack.other.pk, "home": False, "why": "the wrong shelf"}
    assert (page(count).seen, codes(page(count).not_met)) == ([], ["DECK", "HULL", "SEAT"])
    assert sound()


def test_one_count_of_a_place_at_a_time_and_none_of_what_is_part_of_it(count, rack, ines):
    assert place_counts.begin(rack, by=None) == count
    assert place_counts.begin(rack.first, by=None) == count
    room = Place.objects.create(code="HALL", name="Hall")
    Place.objects.filter(pk=rack.pk).update(parent=room)
    with pytest.raises(Refused, match="Rack B"):
        place_counts.begin(room, by=None)
    assert place_counts.begin(rack.other, by=ines).number == 2
    with pytest.raises(Refused, match="Rack C, shelf 1 is no part of Rack B"):
        see(count, rack.DECK, rack.other)


def test_a_count_that_was_given_up_says_nothing_of_what_it_did_not_meet_and_goes_on(count, rack):
    place_counts.give_up(count, by=None)
    assert not Entry.objects.filter(kind="moved").exists()
    other = place_counts.begin(rack, by=None)
    with pytest.raises(Refused, match="counted anew"):
        place_counts.take_up_again(count, by=None, recorded_by=None)
    place_counts.give_up(other, by=None)
    assert place_counts.take_up_again(count, by=None, recorded_by=None).ended_at is None


def test_a_tag_that_nobody_knows_is_kept_once_put_aside_or_becomes_an_older_code(count, rack, ines):
    mark = place_counts.met_unknown(count, "https://old.example/t/Old  deck/", by=ines)
    place_counts.put_aside(mark)
    assert page(count).to_settle == []
    assert place_counts.met_unknown(count, "HTTPS://OLD.EXAMPLE/T/OLD DECK/", by=None) == mark
    assert page(count).to_settle == [mark]
    place_counts.settle_unknown(mark, tool=rack.DECK, place=rack.first, says=ines, by=None, recorded_by=None)
    assert codes(page(count).seen) == ["DECK"]
    assert [alias.code for alias in rack.DECK.aliases.all()] == ["OLD DECK"]
    with pytest.raises(Refused, match="DECK"):
        place_counts.settle_unknown(mark, tool=rack.HULL, place=None, says=ines, by=None, recorded_by=None)
    slip = place_counts.met_unknown(count, "xx", by=ines)
    place_counts.forget_unknown(slip, by=ines)
    assert not CountMark.objects.filter(text="xx").exists()


def test_who_counts_just_now_counts_with_every_scan_there(count, rack, ines, hand):
    assert asked.open_count_of(rack.second, ines, NOW) == count
    assert asked.open_count_of(rack.other, ines, NOW) is None
    assert asked.open_count_of(rack.second, hand, NOW) is None
    place_counts.see(count, rack.DECK, place=rack.first, by=hand, recorded_by=hand)
    assert asked.open_count_of(rack, hand, NOW + timedelta(minutes=59)) == count
    assert asked.open_count_of(rack, hand, NOW + timedelta(minutes=61)) is None
    assert page(count).broken_off(NOW + timedelta(minutes=61))


def test_all_counts_with_what_came_of_each_open_ones_first(count, rack):
    see(count, rack.DECK, rack.first)
    place_counts.met_unknown(count, "x", by=None)
    place_counts.end(count, by=None, recorded_by=None)
    for place in (rack.other, rack.second):
        place_counts.begin(place, by=None)
    place_counts.give_up(PlaceCount.objects.get(number=2), by=None)
    with CaptureQueriesContext(connection) as asking:
        found = asked.what_came_of(asked.counts())
    assert [(one.count.number, one.seen, one.missing, one.unknown) for one in found][::2] == [
        (3, 0, 0, 0),
        (1, 1, 2, 1),
    ]
    assert len(asking) == 2


def test_it_asks_as_often_for_many_tools_as_for_a_few(count, rack, morning):
    def queries():
        with CaptureQueriesContext(connection) as asking:
            page(count)
        return len(asking)

    few = queries()
    for number in range(3):
        see(count, mold(f"M-{number}", morning, pulls=None), rack.second)
    assert queries() == few == 4


def test_the_check_says_where_a_count_and_the_histories_disagree(count, rack):
    entry = see(count, rack.DECK, rack.first)
    CountMark.objects.filter(entry=entry).update(tool=rack.HULL)
    other = see(count, rack.T_LOCK, rack.first)
    CountMark.objects.filter(entry=other).update(at=ago(days=9))
    do("move", rack.SEAT, place=rack.first, counted=7)
    do("move", rack.SEAT, place=rack.first, counted=1)
    assert [str(one).partition(": ")[2] for one in findings()] == [
        "there is no count 7", "count 1 has no line of it",
        "the history does not say that count 1 met or missed it",
        "the history does not say that count 1 met or missed it",
    ]  # fmt: skip
