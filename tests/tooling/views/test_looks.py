"""The page of one look, and its sheet on paper."""

from decimal import Decimal
from uuid import uuid4

import pytest
import time_machine

from shared.clock import now
from shared.errors import Refused
from shared.paper import document
from tests.tooling.views.deeds.conftest import happened, shop  # noqa: F401  (the shop is a fixture)
from tooling.models import Entry
from tooling.selectors.looked import look_of
from tooling.services.checklists import Item, set_items
from tooling.services.deeds.undo import correct
from tooling.services.ledger import record

pytestmark = pytest.mark.django_db
GLOSS = {"quantity": "gloss", "value": Decimal(84), "unit": "GU", "geometry": "60°"}


@pytest.fixture
def looked(client, lead, shop):  # noqa: F811
    client.force_login(lead)
    items = [Item("Edges: no chips"), Item("Gloss measured", "gloss", "GU", "60°")]
    set_items("mold", "look_over", items, by=lead, at=now())
    about = {"checklist": 1, "answers": "1 not_good: chip\n2 good\n7 good", "readings": [GLOSS]}
    return happened.look(shop.mold, passed=True, **about)


def test_the_page_says_what_was_asked_answered_and_measured(client, looked):
    page = client.get(f"/tools/DECK-2A/looks/{looked.number}/").text
    for words in ("Edges: no chips", "not good", "“chip”", "84 GU", "This version has no such line."):
        assert words in page
    assert "The whole look-over" in client.get("/tools/DECK-2A/").text
    assert client.get("/tools/DECK-2A/looks/1/").status_code == 404


def test_good_without_the_values_that_are_wanted_is_not_plain_good(client, looked, shop):  # noqa: F811
    entry = happened.look(shop.mold, passed=True, checklist=1, answers="1 good\n2 good")
    page = client.get(f"/tools/DECK-2A/looks/{entry.number}/").text
    assert "good, no value" in page
    assert "good, no value" not in client.get(f"/tools/DECK-2A/looks/{looked.number}/").text


def test_a_corrected_look_keeps_what_was_measured_with_it(looked, lead):
    new = correct(looked, reason="day", changes={}, at=Entry.objects.get(pk=1).at, recorded_by=lead)
    assert [len(line.readings) for line in look_of(new).lines] == [0, 1, 0]
    assert not look_of(looked).standing


def test_what_was_measured_by_itself_at_that_moment_is_no_part_of_it(shop):  # noqa: F811
    with time_machine.travel("2026-06-01 10:00Z", tick=False):
        entry = happened.look(shop.mold, passed=True, readings=[GLOSS], token=uuid4())
        happened.take_reading(shop.mold, **GLOSS | {"value": Decimal(60)})
    (own,) = look_of(entry).readings
    new = correct(own, reason="typed wrong", changes={"value": Decimal(85)}, recorded_by=None)
    assert look_of(entry).readings == (new,)


def test_answers_that_say_nothing_are_refused(shop):  # noqa: F811
    for answers in ("1 perhaps", "1 good\n1 good", "good"):
        with pytest.raises(Refused) as refused:
            happened.look(shop.mold, passed=True, checklist=1, answers=answers)
        assert refused.value.field == "answers"


def test_the_sheet_can_be_printed(client, looked):
    answer = client.get("/tools/DECK-2A/look-over.pdf")
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    assert answer.getvalue().startswith(b"%PDF")


def test_the_sheet_warns_and_asks_what_the_screen_asks(client, looked, shop, monkeypatch):  # noqa: F811
    drawn = []
    monkeypatch.setattr(document, "pdf", lambda html, **_more: drawn.append(html) or b"%PDF")
    happened.take_note(shop.mold, defects="1 found crack, 12 mm")
    client.get("/tools/DECK-2A/look-over.pdf")
    assert [words for words in ("no, hold it", "smaller", "no bare finger along them") if words not in drawn[0]] == []
    happened.hold(shop.mold)
    client.get("/tools/DECK-2A/look-over.pdf")
    client.get("/tools/DECK-2A/look-over.pdf?for=acceptance")
    assert "no, it stays held" in drawn[1]
    assert "not yet, it is held" in drawn[2]


def test_an_acceptance_that_was_refused_is_read_beside_its_own_checklist(client, looked, shop, lead):  # noqa: F811
    set_items("mold", "acceptance", [Item("Agrees with its drawing")], by=lead, at=now())
    about = {"checklist": 1, "answers": "1 not_good", "evidence": "acceptance", "recorded_by": lead, "by": lead}
    entry = record(shop.mold, "inspected", passed=False, **about)
    assert look_of(entry).lines[0].item.words == "Agrees with its drawing"
