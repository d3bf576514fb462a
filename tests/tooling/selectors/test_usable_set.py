"""Reasons that a part's tool set brings: each stops its tool, and is gone when it is mended."""

from datetime import date, timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import described as described
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, Part, Place, SetLine, Tool
from tooling.selectors.usable.answer import reasons, reasons_of
from tooling.selectors.usable.asked import Asked
from tooling.selectors.whereabouts import whereabouts
from tooling.services import look_overs, tool_sets
from tooling.services.ledger import record
from tooling.services.tools import add_tool
from tooling.words.places import found_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("described")]
PART = "SK520-DECK"


@pytest.fixture
def deck(shop):
    """The revision, with the mold and the insert in its set."""
    revision = Part.objects.get().revisions.get()
    for role, tool in (("mold", shop.mold), ("insert", shop.insert)):
        SetLine.objects.create(revision=revision, role=role, tool=tool)
    return revision


def add(revision, role, tool, **columns):
    return SetLine.objects.create(revision=revision, role=role, tool=tool, **columns)


def found(*tools, at=None, **more):
    """Every reason, of all the tools, by its key."""
    asked = reasons([Tool.objects.get(pk=tool.pk) for tool in tools], at or soon(), part=PART, **more)
    return {one.key: one for of in asked.values() for one in of}


def soon():
    return now() + timedelta(seconds=1)


def test_a_tool_taken_over_from_an_older_revision_is_not_confirmed(shop, deck, lead):
    deck.tool_set.update(confirmed=False)
    reason = found(shop.mold)["not_confirmed DECK-2A"]
    assert (reason.stops, reason.override, reason.text) == (True, "lead", "Not confirmed for SK520-DECK.")
    tool_sets.confirm(deck, by=lead, at=now())
    assert found(shop.mold) == {}


def test_an_insert_of_the_set_goes_into_the_mold(shop, deck):
    assert found(shop.mold, shop.insert) == {}
    happened.remove(shop.insert)
    reason = found(shop.mold, shop.insert)["insert_missing HATCH7"]
    assert (reason.text, reason.mend, reason.deed.name) == (
        "It is not in DECK-2A.", "Put it into DECK-2A.", "installed",
    )  # fmt: skip
    other = add_tool(code="OTHER", name="Other", kind=Kind.MOLD)
    happened.install(shop.insert, mold=other)
    both = found(shop.mold, shop.insert)
    assert both["insert_missing HATCH7"].mend == "Take it out of OTHER, and put it into DECK-2A."
    assert both["insert_elsewhere HATCH7"].deed.name == "removed"
    happened.remove(shop.insert)
    happened.install(shop.insert, mold=shop.mold)
    assert found(shop.mold, shop.insert) == {}


def test_an_alternative_does_as_well_and_an_optional_one_is_not_missed(shop, deck):
    spare = add_tool(code="SPARE", name="Rim", kind=Kind.INSERT)
    happened.remove(shop.insert)
    deck.tool_set.filter(role="insert").update(alternative="Rim")
    add(deck, "insert", spare, alternative="rim")
    assert "insert_missing HATCH7" in found(shop.mold)
    happened.install(spare, mold=shop.mold)
    assert not any(key.startswith("insert_missing") for key in found(shop.mold))
    happened.remove(spare)
    deck.tool_set.filter(role="insert").update(required=False)
    assert found(shop.mold) == {}


def test_inserts_that_the_set_does_not_name_are_not_missed(shop, deck):
    other = add_tool(code="RIM", name="Rim", kind=Kind.INSERT, release_system=shop.wax)
    happened.install(other, mold=shop.mold)
    happened.log_pull(shop.mold, came_off="free")
    happened.remove(other)
    assert found(shop.mold) == {}
    deck.tool_set.filter(role="insert").delete()
    assert "insert_out RIM" in found(shop.mold)


def test_a_half_whose_other_half_is_missing(shop, deck):
    Tool.objects.filter(pk=shop.mold.pk).update(matched_set="Deck")
    assert found(shop.mold) == {}
    half = add_tool(code="DECK-2C", name="Half", kind=Kind.MOLD, matched_set="Deck")
    reason = found(shop.mold)["half_missing DECK-2A"]
    assert reason.text == "It closes on one part with DECK-2C, missing from the tool set of SK520-DECK."
    add(deck, "mold", half)
    assert found(shop.mold) == {}
    before = now()
    happened.retire(half, reason="worn")
    assert found(shop.mold) == {}  # the other half says so itself
    deck.tool_set.filter(tool=half).delete()
    assert "out of use: DECK-2C" in found(shop.mold)["half_missing DECK-2A"].text
    assert "missing from" in found(shop.mold, at=before)["half_missing DECK-2A"].text


def test_the_wrong_hand(shop, deck):
    Tool.objects.filter(pk=shop.mold.pk).update(hand="L")
    Tool.objects.filter(pk__in=(shop.insert.pk, shop.mask.pk)).update(hand="R")
    add(deck, "trim_mask", shop.mask)
    both = found(shop.mold, shop.mask)
    assert both.keys() == {"wrong_hand HATCH7", "wrong_hand COAM-TRIM"}
    assert both["wrong_hand COAM-TRIM"].text == "COAM-TRIM is right-hand, and DECK-2A is not."
    Tool.objects.filter(pk__in=(shop.insert.pk, shop.mask.pk)).update(hand="L")
    assert found(shop.mold, shop.mask) == {}


def test_a_lent_tool_is_back_when_it_is_handed_back_or_seen(shop):
    place = Place.objects.create(code="R", name="Rack")
    happened.lend(shop.mask, person="The club", until=date(2099, 12, 8))
    reason = found(shop.mask)["lent COAM-TRIM"]
    assert (reason.text, reason.stops) == ("Lent to The club until 8 Dec 2099.", True)
    before = now()
    happened.hand_back(shop.mask)
    assert found(shop.mask) == {}
    assert "lent COAM-TRIM" in found(shop.mask, at=before)
    record(shop.mask, "lent", by=None, recorded_by=None)  # a sheet may not know to whom
    assert found(shop.mask)["lent COAM-TRIM"].text == "Lent."
    happened.move(shop.mask, place=place)
    assert found(shop.mask) == {}


def test_a_tool_that_nobody_can_find_and_one_that_is_only_not_home(shop):
    rack, bench = (Place.objects.create(code=code, name=name) for code, name in (("R", "Rack"), ("B", "Bench")))
    assert found(shop.mask) == {}
    happened.move(shop.mask, place=None)
    assert found(shop.mask)["place_unknown COAM-TRIM"].stops
    happened.move(shop.mask, place=rack, home=True)
    happened.move(shop.mask, place=bench)
    assert found(shop.mask) == {}
    (note,) = reasons_of(Asked([shop.mask], soon(), gathering=True))[shop.mask.pk]
    assert (note.key, note.stops, note.text) == (
        "not_home COAM-TRIM", False, "Not home: it is at Bench, its home is Rack.",
    )  # fmt: skip
    happened.change_home(shop.mask, place=bench)
    assert reasons_of(Asked([shop.mask], soon(), gathering=True))[shop.mask.pk] == []


def test_a_place_is_said_for_every_tool(shop):
    where = whereabouts([shop.mold.pk, shop.insert.pk], soon())
    assert found_at(where[shop.insert.pk]) == "in DECK-2A"
    assert found_at(where[shop.mold.pk]) == "no place is written down"


def every(**columns):
    Tool.objects.update(**columns)
    look_overs.anew(Tool.objects.values_list("pk", flat=True))


def test_a_look_over_after_pulls_or_days_of_the_mold_or_an_insert_in_it(shop):
    every(inspect_every_pulls=2)
    happened.log_pull(shop.mold, came_off="free")
    assert found(shop.mold) == {}
    happened.log_pull(shop.mold, came_off="free")
    both = found(shop.mold)
    assert both.keys() == {"look_over_wanted DECK-2A", "look_over_wanted HATCH7"}
    assert both["look_over_wanted DECK-2A"].deed.name == "looked_at"
    for tool in (shop.mold, shop.insert):
        happened.inspect(tool, passed=True)
    assert found(shop.mold) == {}
    every(inspect_every_pulls=None, inspect_every_days=30)
    later = now() + timedelta(days=30)
    assert found(shop.mold, at=later)["look_over_wanted DECK-2A"].text == "A look-over is wanted."
    assert "look_over_wanted DECK-2A" not in found(shop.mold, at=later - timedelta(days=2))
