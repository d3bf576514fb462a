"""The trim bench: what came off and is not trimmed yet, what is next for it, and what stands against that."""

import re

import pytest

from tests.tooling.views.works import ago, mold
from tooling.models import Kind, Part, PartRevision, SetLine
from tooling.services.ledger import record
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services.deeds import log_use

pytestmark = pytest.mark.django_db
PAGE = "/trim/"


@pytest.fixture
def deck(morning):
    revision = PartRevision.objects.create(part=Part.objects.create(number="DECK"), revision="A", name="Kayak deck")
    made_in = mold("DECK-2", None, pulls=None)
    SetLine.objects.create(revision=revision, role="mold", tool=made_in)
    for code, stage in (("NET-1", "net"), ("ROUGH-1", "rough")):
        mask = mold(code, None, kind=Kind.TRIM_MASK, pulls=None)
        Mask.objects.create(tool=mask, stage=stage)
        SetLine.objects.create(revision=revision, role="trim_mask", tool=mask)
    return revision


def tool(deck, code):
    return deck.tool_set.get(tool__code=code).tool


def off(deck, serial="", hours=3, code="DECK-2", **more):
    said = {"by": None, "recorded_by": None, "at": ago(hours=hours), "part": "deck", "serial": serial, **more}
    return record(tool(deck, code), "pull", **said)


def cut(deck, code, **said):
    return log_use(tool(deck, code), by=None, recorded_by=None, at=ago(hours=1), part="DECK", **said)


def rows(client):
    return [(row.said, row.next.step.line.line.what) for row in client.get(PAGE).context["rows"]]


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def test_the_oldest_first_each_with_its_next_cut_in_the_order_of_the_stages(sign_in, deck):
    hand = sign_in("hand")
    off(deck, "0172", came_off="lost", hours=5)
    off(deck, "0173, 0174", count=2)
    off(deck, "0171", hours=30)
    off(deck, "0099", hours=24 * 15)
    cut(deck, "ROUGH-1", serial="0171")
    assert rows(hand) == [("DECK, 0171", "NET-1"), ("DECK, 0173", "ROUGH-1"), ("DECK, 0174", "ROUGH-1")]
    said = words(hand.get(PAGE))
    assert "Still to cut with NET-1 , net cut. " in said
    assert "Cut already with ROUGH-1." in said
    assert "After that with NET-1, net cut." in said
    assert "No gloves at a turning cutter." in said
    assert "Plug out before a cutter or guide bushing is changed" in said
    cut(deck, "NET-1", serial="0171")
    assert rows(hand)[0] == ("DECK, 0173", "ROUGH-1")


def test_a_tap_leads_to_the_deed_with_part_and_number(sign_in, deck):
    hand = sign_in("hand")
    off(deck, "0173", hours=4)
    off(deck, "0174")
    address = hand.get(PAGE).context["rows"][0].address
    assert address == "/tools/ROUGH-1/trimmed/?part=DECK&serial=0173"
    assert address.replace("&", "&amp;") in hand.get(PAGE).text
    form = hand.get(address).context["form"]
    assert (form["part"].value(), form["serial"].value()) == ("deck", ["0173"])
    assert "/trimmed/" not in sign_in("reader").get(PAGE).text


def test_a_number_outside_ascii_is_known_in_any_case(sign_in, deck):
    Part.objects.update(number="Tr\u00e4ger")
    off(deck, "0173", part="tr\u00e4ger")
    hand = sign_in("hand")
    assert rows(hand) == [("Tr\u00e4ger, 0173", "ROUGH-1")]
    assert hand.get("/tools/ROUGH-1/trimmed/").context["form"].offered.serials == ("0173",)


def test_what_may_not_be_used_says_why_and_leads_to_what_mends_it(sign_in, deck):
    off(deck)
    record(tool(deck, "ROUGH-1"), "hold", by=None, recorded_by=None, at=ago(hours=2), reason="a step in the edge")
    said = sign_in("hand").get(PAGE)
    assert "DECK, without a serial number" in words(said)
    assert "Not usable. Held" in words(said)
    assert "/tools/ROUGH-1/looked-at/" in said.text
    assert "/tools/ROUGH-1/trimmed/" not in said.text


def test_halves_make_one_part_and_optional_trim_masks_ask_for_nothing(sign_in, deck):
    other = mold("DECK-3", None, pulls=None, matched_set="deck")
    tool(deck, "DECK-2").__class__.objects.filter(code="DECK-2").update(matched_set="deck")
    SetLine.objects.create(revision=deck, role="mold", tool=other)
    for code in ("DECK-2", "DECK-3"):
        off(deck, code=code)
    assert rows(sign_in("hand")) == [("DECK, without a serial number", "ROUGH-1")]
    deck.tool_set.filter(role="trim_mask").update(required=False)
    assert "Nothing waits" in words(sign_in("reader").get(PAGE))


def test_thirty_take_as_many_queries_as_one(sign_in, deck, django_assert_num_queries):
    reader = sign_in("reader")
    off(deck, "1")
    with django_assert_num_queries(15):
        assert len(rows(reader)) == 1
    off(deck, ", ".join(map(str, range(2, 61))), count=59)
    with django_assert_num_queries(15):
        assert len(rows(reader)) == 50
    assert "10 more parts wait behind these." in words(reader.get(PAGE))


def test_what_is_to_know_of_the_next_one_is_said(sign_in, deck):
    off(deck)
    gone = Cutter.objects.create(code="C8", kind="cutter", nominal_mm=8, state="gone")
    Feature.objects.create(mask=tool(deck, "ROUGH-1").mask, kind="edge", method="bearing", cutter=gone)
    reply = sign_in("hand").get(PAGE)
    assert "Its cutter C8 is gone. Get one." in words(reply)
    assert ">Trimmed<" in reply.text
