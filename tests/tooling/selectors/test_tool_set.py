"""The tool set of a part as it stands: usable or not, of alternatives the more usable one, and at which cost."""

from datetime import timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, Part, SetLine
from tooling.selectors.tool_set import tool_set
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck(shop):
    """The revision with its mold, its insert, a trim mask and bolts."""
    revision = Part.objects.get().revisions.select_related("part").get()
    add = SetLine.objects.create
    add(revision=revision, role="hardware", item="8 bolts M6")
    for role, tool in (("trim_mask", shop.mask), ("insert", shop.insert), ("mold", shop.mold)):
        add(revision=revision, role=role, tool=tool, alternative="deck" if role == "mold" else "")
    return revision


def answer(revision, **later):
    return tool_set(revision, now() + timedelta(seconds=1, **later))


def second_mold(shop, deck, coats=1):
    mold = add_tool(code="DECK-2B", name="Deck", kind=Kind.MOLD, release_system=shop.wax)
    for _ in range(coats):
        happened.log_coat(mold)
    SetLine.objects.create(revision=deck, role="mold", tool=mold, alternative="Deck")
    return mold


def codes(found):
    return [(one.line.what, one.offered, one.usable) for one in found.lines if one.role == "mold"]


def test_a_set_that_may_be_used_names_every_place(deck):
    found = answer(deck)
    assert found.usable
    assert [one.role for one in found.lines] == ["mold", "insert", "trim_mask", "hardware"]
    assert all(one.place and one.usable for one in found.lines)
    assert (found.lines[0].pulls_left, found.lines[1].place) == (3, "in DECK-2A")


def test_a_held_trim_mask_stops_the_set_until_it_is_freed_unless_it_is_optional(shop, deck):
    happened.hold(shop.mask, reason="worn")
    found = answer(deck)
    assert not found.usable
    assert [reason.key for one in found.lines for reason in one.reasons] == ["held COAM-TRIM"]
    deck.tool_set.filter(role="trim_mask").update(required=False)
    assert answer(deck).usable
    deck.tool_set.filter(role="trim_mask").update(required=True)
    happened.inspect(shop.mask, passed=True)
    assert answer(deck).usable


def test_no_lines_and_no_mold_are_said(deck):
    deck.tool_set.filter(role="mold").delete()
    assert (answer(deck).usable, answer(deck).why) == (False, "No mold stands in this tool set.")
    deck.tool_set.all().delete()
    assert answer(deck).why == "No tool set is written down for this revision."


def test_of_two_molds_the_more_usable_is_offered_first(shop, deck):
    second_mold(shop, deck, coats=0)
    found = answer(deck)
    assert codes(found) == [("DECK-2A", True, True), ("DECK-2B", False, False)]
    assert (found.usable, found.lines[0].why) == (True, "DECK-2A may be used now, DECK-2B not.")
    happened.retire(shop.mold, reason="worn")
    found = answer(deck)
    assert [code for code, _offered, _usable in codes(found)] == ["DECK-2B", "DECK-2A"]
    assert not found.usable
    assert "mended more easily" in found.lines[0].why


def test_both_usable_the_one_with_more_pulls_and_its_own_insert_go_first(shop, deck):
    mold = second_mold(shop, deck)
    rim = add_tool(code="RIM", name="Rim", kind=Kind.INSERT, release_system=shop.wax)
    happened.log_coat(rim)
    happened.install(rim, mold=mold)
    SetLine.objects.create(revision=deck, role="insert", tool=rim, alternative="rim")
    deck.tool_set.filter(tool=shop.insert).update(alternative="rim")
    assert "stand alike; DECK-2A" in answer(deck).lines[0].why
    happened.log_pull(shop.mold, came_off="free")
    found = answer(deck)
    assert found.lines[0].why == "DECK-2B has 3 pulls left, more than DECK-2A."
    assert [one.line.what for one in found.lines if one.offered][:2] == ["DECK-2B", "RIM"]
    assert (found.usable, found.lines[2].why) == (True, "RIM is in DECK-2B already.")


def test_the_fewer_reasons_are_nearer(shop, deck):
    mold = second_mold(shop, deck, coats=0)
    happened.want_wax(shop.mold)
    happened.remove(shop.insert)
    happened.install(shop.insert, mold=mold)
    assert "against DECK-2B stands 1 reason, against DECK-2A more" in answer(deck).lines[0].why


def test_a_parts_own_number_of_pulls_is_shown(shop, deck):
    happened.set_interval(shop.mold, count=2, part=deck.part.number)
    assert [one.own_pulls for one in answer(deck).lines] == [2, None, None, None]
