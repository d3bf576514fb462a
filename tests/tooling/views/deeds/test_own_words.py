"""What the program writes of itself is said as its own; quotation marks stand around what a hand typed."""

import pytest
from django.utils.html import strip_tags

from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry
from tooling.services import deeds
from tooling.words.own import quoted

pytestmark = pytest.mark.django_db
HELD = "Held: it came off stuck, not looked at yet"


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


@pytest.mark.parametrize("address", ["/", "/tools/DECK-2A/", "/tools/DECK-2A/lay-up/"])
def test_a_hold_of_the_program_says_what_came_off(client, send, address):
    send("pulled", came_off="stuck")
    page = strip_tags(client.get(address).text)
    assert HELD in page
    assert "somebody stopped it" not in page
    assert "“it came off" not in page


def test_a_hold_of_a_hand_keeps_its_words_in_quotes(client, shop):
    happened.hold(shop.mold, reason="chip at the transom")
    assert "“chip at the transom”" in client.get("/tools/DECK-2A/").text


def test_a_correction_of_the_program_has_no_quotes(client, send, hand):
    send("pulled", came_off="light")
    pull = Entry.objects.get(kind="pull")
    deeds.add_to_pull(pull, changes={"fault": "drag"}, recorded_by=hand)
    page = client.get("/tools/DECK-2A/").text
    assert "seen when it was off" in page
    assert "“seen when it was off”" not in page
    assert quoted("seen when it was of") == "“seen when it was of”"


def test_the_reason_of_every_entry_that_the_program_writes_is_known_as_its_own(send, hand):
    send("pulled", came_off="stuck")
    hold, pull = Entry.objects.get(kind="hold"), Entry.objects.get(kind="pull")
    deeds.add_to_pull(pull, changes={"tool_damaged": False}, recorded_by=hand)
    deeds.rub_out(Entry.objects.get(kind="pull", replaces=pull), recorded_by=hand)
    said = [one.payload.get(name) for one in Entry.objects.filter(pk__gte=hold.pk) for name in ("reason", "why")]
    assert [quoted(words) for words in said if words] == [words for words in said if words]
    assert len([words for words in said if words]) >= 3
