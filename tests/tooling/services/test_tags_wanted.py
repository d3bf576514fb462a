"""Which tools want a tag: new ones, moved ones, changed ones, and those whose tag is lost."""

from datetime import UTC, timedelta

import pytest

from shared.errors import Refused
from shared.units import UNITS, read
from tests.tooling.views.conftest import morning
from tests.tooling.views.works import NOW, do, mold
from tooling.models import Place, TagPrint
from tooling.selectors.tag_facts import facts
from tooling.selectors.tags_wanted import wanted, wants
from tooling.services.catalogue import change_tool
from tooling.services.places import change_place
from tooling.services.tags.lost import rub_out_lost, tag_lost
from tooling.services.tags.printed import mark, put_back
from tooling.words.tags import reason

__all__ = ["morning"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def deck(morning):
    rack = Place.objects.create(code="A", name="Rack A")
    return mold("DECK-2A", morning, pulls=None, place=rack, lift="two people")


def listed():
    return {tag.tool.code: tag.wanted for tag in wanted().select_related("tool")}


def printed(*tools, by, at=NOW):
    return mark(facts((one.pk for one in tools), at), by=by, at=at, count=len(tools), given={})


def test_a_new_tool_is_listed_until_it_is_printed(deck, lead):
    assert listed() == {"DECK-2A": "new"}
    printed(deck, by=lead)
    assert listed() == {}
    tag = TagPrint.objects.get()
    assert (tag.said["home"], tag.said["lift"], tag.printed_by) == ("Rack A", "two people", lead)


def test_another_home_and_another_name_of_its_home(deck, lead):
    printed(deck, by=lead)
    other = Place.objects.create(code="B", name="Rack B")
    do("move", deck, place=other, home=False)
    assert listed() == {}
    do("move", deck, place=other, home=True)
    assert listed() == {"DECK-2A": "moved"}
    do("move", deck, place=Place.objects.get(code="A"), home=True)
    assert listed() == {}
    twin = Place.objects.create(code="C", name="Rack A")
    do("move", deck, place=twin, home=True)
    [want] = wants(wanted(), NOW)
    assert reason(want.tag, want.now, want.other, NOW, UTC).startswith(
        "Moved: its home is Rack A (C) now, its tag says"
    )
    do("move", deck, place=Place.objects.get(code="A"), home=True)
    change_place(Place.objects.get(code="A"), {"name": "Rack by the door"})
    assert listed() == {"DECK-2A": "moved"}


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("code", "DECK-2C"),
        ("name", "Deck, new"),
        ("mass_kg", read("42", UNITS["kg"])),
        ("lift", "chain hoist"),
        ("max_service_c", read("60", UNITS["°C"])),
        ("owner", "a customer"),
    ],
)
def test_what_stands_on_the_tag_has_changed(deck, lead, column, value):
    printed(deck, by=lead)
    change_tool(deck, by=lead, at=NOW, columns={column: value})
    [want] = wants(wanted().select_related("tool"), NOW)
    assert (want.tag.wanted, want.other) == ("changed", [column])
    deck.refresh_from_db()
    printed(deck, by=lead)
    assert listed() == {}


def test_what_was_changed_while_the_file_was_made_is_wanted_anew(deck, lead):
    said = facts([deck.pk], NOW)
    change_tool(deck, by=lead, at=NOW, columns={"name": "Deck, new"})
    mark(said, by=lead, at=NOW, count=1, given={})
    assert listed() == {"DECK-2A": "changed"}


def test_they_did_not_come_out_and_twice_is_harmless(deck, lead, morning):
    other = mold("HULL520", morning, pulls=None)
    run = printed(deck, other, by=lead)
    printed(other, by=lead, at=NOW + timedelta(minutes=1))
    assert put_back(run, by=lead, at=NOW) == 1
    assert put_back(run, by=lead, at=NOW + timedelta(hours=1)) == 0
    run.refresh_from_db()
    assert (listed(), run.put_back_at) == ({"DECK-2A": "spoilt"}, NOW)


def test_a_lost_tag_is_wanted_until_it_is_found_or_printed(deck, hand, lead):
    printed(deck, by=lead)
    for minutes in (0, 3):
        tag_lost(deck, by=hand, recorded_by=hand, at=NOW + timedelta(minutes=minutes))
    assert (listed(), TagPrint.objects.get().lost_at) == ({"DECK-2A": "lost"}, NOW)
    rub_out_lost(deck, by=hand, at=NOW)
    rub_out_lost(deck, by=hand, at=NOW)
    assert listed() == {}
    tag_lost(deck, by=hand, recorded_by=hand, at=NOW)
    with pytest.raises(Refused, match="five minutes"):
        rub_out_lost(deck, by=hand, at=NOW + timedelta(minutes=6))
    printed(deck, by=lead)
    assert (listed(), TagPrint.objects.get().lost_by) == ({}, None)


def test_a_tool_in_the_making_wants_one_once_it_is_accepted(deck, lead, morning):
    plug = mold("PLUG520", morning, kind="plug", pulls=None, in_making=True)
    assert listed() == {"DECK-2A": "new"}
    do("accept", plug)
    assert listed() == {"DECK-2A": "new", "PLUG520": "new"}
