"""A mold comes off its plug: the pull of the one and the beginning of the other are written together, or neither."""

from functools import partial
from types import SimpleNamespace
from uuid import uuid4

import pytest

from shared.errors import Refused, TokenReused
from tests.fixtures.once import once
from tests.tooling.views.works import open_shop
from tooling.models import Entry, Kind, MakingStep, Person, Place, Summary, Tool
from tooling.selectors.floor import floor
from tooling.selectors.off_the_plug import coming_off, next_code, pulled_lately, step_off
from tooling.services import deeds
from tooling.services.off_the_plug import Away, TooHeavy, take_off
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@once
def a_plug():
    wax = open_shop()
    lead = Person.objects.create_person("Ines", "lead", "long enough for a test")
    plug = add_tool(code="14-PLUG", kind=Kind.PLUG, name="Plug", release_system=wax, owner="Otter Sea School")
    deeds.log_coat(plug, by=lead, recorded_by=lead)
    deeds.lay_up(plug, part="14.HULL", by=lead, recorded_by=lead)
    return SimpleNamespace(wax=wax, plug=plug, lead=lead)


@pytest.fixture
def shop(db):
    return a_plug()


@pytest.fixture
def off(shop):
    """Takes off what was laid up, said by a lead."""
    lay_up = Entry.objects.get(kind="lay_up").pk
    said = {"came_off": "light", "lay_up": lay_up, "by": shop.lead, "recorded_by": shop.lead}
    return partial(take_off, shop.plug, **said)


def new(**columns):
    return {"code": "14.hull", "kind": Kind.MOLD, "name": "Hull mold", **columns}


def kinds(tool):
    return list(Entry.objects.filter(tool=tool).order_by("number").values_list("kind", flat=True))


def test_a_new_mold_is_there_bare_and_in_the_making(shop, off):
    rack = Place.objects.create(code="B-2", name="rack B")
    taken = off(columns=new(release_system=shop.wax, place=rack), away=Away(place=rack, step="Off the plug"))
    assert (taken.entry.kind, taken.entry.tool, taken.entry.part, taken.entry.came_off) == (
        "pull", shop.plug, "14.HULL", "light",
    )  # fmt: skip
    mold = Tool.objects.get(code="14.HULL")
    assert (mold, mold.made_from, mold.in_making) == (taken.tool, shop.plug, True)
    assert kinds(mold) == ["starting_state", "making", "moved"]
    summary = mold.summary
    assert (summary.total_pulls, summary.step, summary.seen_place, summary.home) == (0, "Off the plug", rack, rack)
    assert Summary.objects.get(tool=shop.plug).laid_up_at is None
    assert Entry.objects.get(tool=mold, kind="starting_state").payload["prepared"] == "no"


def test_one_in_the_making_is_taken_as_it_is_and_told_where_it_comes_from(shop, off):
    mold = add_tool(code="14.HULL", kind=Kind.MOLD, name="Hull", in_making=True)
    deeds.make_step(mold, step="curing", by=None, recorded_by=None)
    taken = off(off=mold, columns={}, away=Away(step="Off the plug"))
    assert (taken.tool, taken.tool.made_from) == (mold, shop.plug)
    assert kinds(mold) == ["making", "starting_state", "making"]


def test_sent_twice_there_is_one_pull_and_one_mold(shop, off):
    token = uuid4()
    first, again = (off(columns=new(), away=Away(step="Off the plug"), token=token) for _time in range(2))
    assert (again.entry, again.tool) == (first.entry, first.tool)
    assert Entry.objects.filter(kind="pull").count() == 1
    with pytest.raises(TokenReused):
        off(columns=new(code="14.HULL-2"), token=token)


@pytest.mark.parametrize(
    ("before", "columns", "said"),
    [
        ({"off": "14.DECK"}, {}, "not in the making"),
        ({"off": "OTHERS"}, {}, "made from another tool"),
        ({}, {"code": "14-PLUG"}, "is or was the code of the tool 14-PLUG"),
    ],
)
def test_what_cannot_be_leaves_nothing_behind(shop, off, before, columns, said):
    other = add_tool(code="2-PLUG", kind=Kind.PLUG, name="Plug")
    add_tool(code="14.DECK", kind=Kind.MOLD, name="Deck")
    add_tool(code="OTHERS", kind=Kind.MOLD, name="Deck", in_making=True, made_from=other)
    named = Tool.objects.get(code=before["off"]) if before else None
    count = Tool.objects.count(), Entry.objects.count()
    with pytest.raises(Exception, match=said):
        off(off=named, columns=new(**columns) if named is None else {})
    assert (Tool.objects.count(), Entry.objects.count()) == count


def test_a_held_plug_lets_off_what_is_on_it_and_nothing_else(shop, off):
    deeds.hold(shop.plug, reason="scratched", by=None, recorded_by=None)
    assert off(columns=new()).tool.code == "14.HULL"
    with pytest.raises(Refused, match="is held, and nothing is laid up on it"):
        take_off(shop.plug, came_off="free", columns=new(code="X"), by=shop.lead, recorded_by=shop.lead)


def test_a_place_that_would_carry_too_much_is_asked_about(shop, off):
    rack = Place.objects.create(code="B-2", name="rack B", max_load_kg=40)
    mold = add_tool(code="14.HULL", kind=Kind.MOLD, name="Hull", in_making=True, mass_kg=41)
    with pytest.raises(TooHeavy) as asked:
        off(off=mold, columns={}, away=Away(place=rack))
    assert not Entry.objects.filter(kind="pull").exists()
    assert asked.value.over.kg_then == 41
    assert off(off=mold, columns={}, away=Away(place=rack, heavy=rack.pk)).tool.summary.seen_place == rack


def test_a_pull_that_was_logged_before_is_told_what_came_off(shop):
    pull = deeds.take_off(shop.plug, lay_up=Entry.objects.get(kind="lay_up").pk, came_off="free",
                          by=shop.lead, recorded_by=shop.lead)  # fmt: skip
    on = floor(shop.plug, pull.recorded_at)
    assert pulled_lately(on) == pull
    taken = take_off(
        shop.plug, came_off="", columns=new(), written=pull, by=shop.lead, recorded_by=shop.lead, token=uuid4()
    )
    assert (taken.entry.replaces, taken.entry.part) == (pull, "14.HULL")
    assert Summary.objects.get(tool=shop.plug).total_pulls == 1
    assert pulled_lately(on) is None


def test_what_may_come_off_is_what_is_on_it_then_what_is_to_be_made_from_it(shop, off):
    on = partial(floor, shop.plug)
    later = add_tool(code="14.TOP", kind=Kind.MOLD, name="Top", in_making=True, made_from=shop.plug)
    named = add_tool(code="14.HULL", kind=Kind.MOLD, name="Hull", in_making=True)
    add_tool(code="OTHER", kind=Kind.MOLD, name="Other", in_making=True)
    at = Entry.objects.latest("pk").recorded_at
    assert (coming_off(on(at)).named, coming_off(on(at)).others) == (named, (later,))
    taken = off(off=named, columns={})
    assert coming_off(on(taken.entry.recorded_at)).all == (later,)


def test_a_code_is_proposed_that_is_free(shop):
    assert next_code(shop.plug, Kind.MOLD, "14.hull") == "14.HULL"
    assert next_code(shop.plug, Kind.MOLD) == "14-MOLD"
    for code, after in (("DECK-2B", "DECK-2C"), ("HULL-09", "HULL-10"), ("HULL520", "HULL520-2")):
        add_tool(code=code, kind=Kind.MOLD, name="Mold", made_from=shop.plug)
        assert next_code(shop.plug, Kind.MOLD) == after
    assert next_code(shop.plug, Kind.TRIM_MASK) == "14-TRIM"


def test_the_pull_stands_for_its_step_where_the_list_says_so(shop):
    assert step_off(Kind.MOLD, Kind.PLUG) == "Off the plug"
    MakingStep.objects.create(kind=Kind.MOLD, order=1, name="Off and cut")
    assert step_off(Kind.MOLD, Kind.PLUG) == "Off and cut"
    MakingStep.objects.create(kind=Kind.MOLD, order=2, name="Demolded", by_entry="pull")
    assert step_off(Kind.MOLD, Kind.PLUG) == ""
