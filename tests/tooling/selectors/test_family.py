"""The family of a tool: all that comes from what it comes from, in two queries."""

import pytest

from tests.tooling.views.conftest import morning
from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, SetLine, Tool
from tooling.selectors.family import PartsMade, family

__all__ = ["morning"]
pytestmark = pytest.mark.django_db


def codes(tools):
    return [one.code for one in tools]


@pytest.fixture
def plug(morning):
    """A plug in the place of an older one, two molds off it, a half that closes, an insert, a trim mask of the part."""
    old = mold("P-0", None, kind=Kind.PLUG, pulls=None)
    plug = mold("P-1", None, kind=Kind.PLUG, pulls=None, in_place_of=old)
    deck = mold("DECK", morning, made_from=plug, matched_set="Hull and deck")
    mold("DECK-2", morning, made_from=plug, in_place_of=deck)
    mold("HULL", morning, matched_set="Hull and deck")
    for number, part in enumerate(("520", "520", "440", "520")):
        do("log_pull", deck, at=ago(hours=9 - number), came_off="free", part=part)
    rim = mold("RIM", morning, kind=Kind.INSERT)
    do("install", rim, mold=deck, at=ago(hours=4))
    trim = mold("T-1", None, kind=Kind.TRIM_MASK, pulls=None)
    of = PartRevision.objects.create(part=Part.objects.create(number="520"), name="Deck")
    SetLine.objects.create(revision=of, role="mold", tool=deck)
    SetLine.objects.create(revision=of, role="trim_mask", tool=trim)
    mold("STRANGER", morning)
    return plug


def test_of_a_mold(plug):
    deck = Tool.objects.get(code="DECK")
    found = family(deck)
    assert codes(found.line) == ["P-1", "DECK"]
    assert {one.code for one in found.tools.values()} == {"P-0", "P-1", "DECK", "DECK-2", "HULL", "RIM", "T-1"}
    assert (codes(found.copies(deck)), codes(found.halves(deck))) == (["DECK-2"], ["HULL"])
    assert (codes(found.inserts(deck)), codes(found.trim_masks(deck))) == (["RIM"], ["T-1"])
    assert (codes(found.after(deck)), codes(found.before(plug))) == (["DECK-2"], ["P-0"])
    assert found.parts[deck.pk] == [PartsMade("520", 3), PartsMade("440", 1)]


@pytest.mark.parametrize("code", ["RIM", "T-1"])
def test_of_what_is_put_into_a_mold_or_over_its_part(plug, code):
    one = Tool.objects.get(code=code)
    assert codes(family(one).molds_of(one)) == ["DECK"]


def test_a_tool_that_came_off_a_plug_is_none_of_its_parts(plug):
    do("log_pull", plug, at=ago(hours=2), came_off="free", part="deck")
    assert family(plug).parts == family(Tool.objects.get(code="DECK")).parts
    assert plug.pk not in family(plug).parts


def test_what_was_voided_is_no_part_of_it(plug):
    rim, deck = (Tool.objects.get(code=code) for code in ("RIM", "DECK"))
    do("void", rim.entries.get(kind="installed"), reason="mistake")
    do("void", deck.entries.filter(kind="pull", part="440").get(), reason="mistake")
    found = family(deck)
    assert (found.inserts(deck), found.parts[deck.pk]) == ([], [PartsMade("520", 3)])


def test_an_older_loop_of_origins_and_of_places_ends(plug):
    deck = Tool.objects.get(code="DECK")
    Tool.objects.filter(pk=plug.pk).update(made_from=deck)
    Tool.objects.filter(code="DECK").update(in_place_of=Tool.objects.get(code="DECK-2"))
    found = family(Tool.objects.get(code="DECK"))
    assert codes(found.line) == ["P-1", "DECK"]
    assert codes(found.before(found.tool)) == ["DECK-2"]


def test_two_hundred_descendants_take_two_queries(morning, django_assert_num_queries):
    above = mold("P-0", None, kind=Kind.PLUG, pulls=None)
    for generation in range(10):
        kind = Kind.MOLD if generation % 2 == 0 else Kind.PLUG
        made = [Tool(code=f"G{generation}-{n}", name="x", kind=kind, made_from=above) for n in range(20)]
        above = Tool.objects.bulk_create(made)[7]
    plug = Tool.objects.get(code="P-0")
    with django_assert_num_queries(2):
        found = family(plug)
        assert len(found.tools) == 201
        assert len(found.made(found.tools[above.made_from_id])) == 20
    assert codes(family(above).line) == ["P-0", *(f"G{n}-7" for n in range(10))]
