"""The record of an acceptance on paper, read back as text."""

from datetime import date
from decimal import Decimal

import pytest

from shared.clock import now
from tests.shared.paper.needs import pango
from tests.tooling.pictures import file_of
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tests.tooling.views.test_tool_sheet import pages
from tooling.models import Entry
from tooling.services import deeds, rights
from tooling.services.checklists import Item, set_items
from tooling.services.pictures import store
from tooling.services.shop import change_shop

pytestmark = [pytest.mark.django_db, pango]
GLOSS = {
    "quantity": "gloss", "value": Decimal("84.2"), "unit": "GU", "geometry": "60°", "standard": "ISO 2813",
    "spot": "keel", "instrument": "GM-60", "calibrated_until": date(2020, 1, 31),
}  # fmt: skip


@pytest.fixture
def accepted(shop, hand, lead):
    """With formal records, by the right of a hand."""
    set_items("mold", "acceptance", [Item("Edges"), Item("Gloss", "gloss", "GU", "60°")], by=lead, at=now())
    change_shop({"formal_records": True})
    rights.give(hand, "accept", since=now().date(), by=lead, at=now())
    happened.make_step(shop.mold, step="filled")
    about = {"answers": "1 not_good: one chip\n2 good", "checklist": 1, "readings": [GLOSS], "note": "fair"}
    evidence = {"design_ref": "D-12", "design_revision": "C", "pictures": [store(file_of())]}
    return deeds.accept_on_evidence(shop.mold, passed=True, by=hand, recorded_by=hand, **about, **evidence)


def test_it_has_all_that_it_rests_on(client, reader, accepted):
    client.force_login(reader)
    reply = client.get("/tools/DECK-2A/accepted.pdf")
    assert reply["Content-Type"] == "application/pdf"
    [text] = pages(reply.content)
    for words in (
        "Acceptance record", "Accepted by", "to accept a tool, from", "given by Test lead", "D-12", "one chip",
        "not good", "Gloss 60° at keel: 84.2 GU (ISO 2813)", "GM-60, calibrated until 31 Jan 2020",
        "Its calibration had ended", "Version 1", "Check value of its history", "1 of 1",
    ):  # fmt: skip
        assert words in text, words
    assert f'accepted.pdf?entry={accepted.number}"' in client.get("/tools/DECK-2A/").text


def test_an_answer_to_what_was_not_asked_stands_there_too(client, reader, shop):
    happened.accept(shop.mold, answers="7 not_good: dull")
    client.force_login(reader)
    [text] = pages(client.get("/tools/DECK-2A/accepted.pdf").content)
    assert "a line that this version of the checklist does not have" in text


def test_without_one_it_leads_to_the_tool_and_one_by_one_they_stay(client, reader, shop, accepted):
    client.force_login(reader)
    assert client.get("/tools/HATCH7/accepted.pdf").url == "/tools/HATCH7/"
    assert client.get("/tools/DECK-2A/accepted.pdf?entry=999").status_code == 404
    change_shop({"formal_records": False})
    happened.make_step(shop.mold, step="filled")
    happened.accept(shop.mold)
    assert Entry.objects.filter(kind="accepted").count() == 2
    [text] = pages(client.get("/tools/DECK-2A/accepted.pdf").content)
    assert "None was gone through." in text
    [text] = pages(client.get(f"/tools/DECK-2A/accepted.pdf?entry={accepted.number}").content)
    assert "one chip" in text
