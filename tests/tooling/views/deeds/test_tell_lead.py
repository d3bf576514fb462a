"""Tell the lead: it holds nothing, and stands on a lead's board until a lead has seen it or stopped the tool for it."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from tests.tooling.pictures import sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, LeadNote, Summary
from tooling.services import deeds

pytestmark = pytest.mark.django_db
BOARD = "/"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def told(shop):
    return happened.tell_lead(shop.mold, note="soft spot at the bow")


def held(tool):
    return Summary.objects.get(tool=tool).held_since is not None


def saw(told):
    return reverse("lead_saw", args=[told.tool.code, told.number])


def test_it_holds_nothing_and_the_lead_sees_it(client, send, shop, hand, lead):
    client.force_login(hand)
    token = uuid4()
    for _again in range(2):
        send("tell_lead", token=token, note="soft spot at the bow", pictures=[sent(1)])
    assert not held(shop.mold)
    assert LeadNote.objects.get().entry == Entry.objects.get(kind="note")
    assert "soft spot" not in client.get(BOARD).text
    client.force_login(lead)
    page = client.get(BOARD).text.partition("Told to the lead")[2]
    assert "soft spot at the bow" in page
    assert "/pictures/#p" in page
    assert "?told=" in page


@pytest.mark.parametrize("code", ["DECK-2A", "HATCH7", "COAM-TRIM"])
def test_stop_and_tell_are_two_buttons_on_every_tool(client, shop, hand, code):
    client.force_login(hand)
    for word in ("hold", "tell"):
        assert f'class="deed big wrong" href="/tools/{code}/{word}/"' in client.get(f"/tools/{code}/").text


def test_nothing_at_all_is_not_told(client, send, shop, hand):
    client.force_login(hand)
    assert errors(send("tell_lead", note="  ")) == {"note": ["Say it in words, or add a picture."]}
    assert send("tell_lead", pictures=[sent(1)]).status_code == 302
    assert LeadNote.objects.count() == 1


def test_seen_once_with_who_and_when(client, told, lead, hand):
    client.force_login(lead)
    assert client.get(saw(told)).status_code == 302
    assert LeadNote.objects.get().seen_at is None, "to look at an address writes nothing"
    for _again in range(2):
        client.post(saw(told))
    note = LeadNote.objects.get()
    assert (note.seen_by, note.seen_at is not None) == (lead, True)
    assert "soft spot" not in client.get(BOARD).text
    assert "Told to the lead" in client.get("/tools/DECK-2A/").text
    client.force_login(hand)
    assert client.post(saw(told)).status_code == 403


def test_a_lead_goes_on_to_stop_it(client, send, told, shop, lead):
    client.force_login(lead)
    page = client.get(f"/tools/DECK-2A/hold/?told={told.number}").text
    assert "soft spot at the bow</textarea>" in page.replace("\n", "")
    assert "soft spot" not in client.get("/tools/DECK-2A/hold/?told=x").text
    send("hold", words="soft spot at the bow", of_told=told.number, by=lead.pk)
    assert held(shop.mold)
    assert LeadNote.objects.get().seen_by == lead


def test_what_is_void_is_not_told_and_what_is_corrected_is_told_once(client, told, shop, lead):
    new = deeds.correct(told, reason="typed wrong", changes={"note": "at the stern"}, by=None, recorded_by=lead)
    assert LeadNote.objects.get().entry == new
    client.force_login(lead)
    assert "at the stern" in client.get(BOARD).text
    deeds.void(new, reason="it was dirt", by=None, recorded_by=lead)
    assert "Told to the lead" not in client.get(BOARD).text


def test_a_hand_tells_what_is_wrong_with_an_entry_of_its_own(client, hand, lead, shop):
    mine = happened.log_pull(shop.mold, by=hand, came_off="free")
    others = happened.log_pull(shop.mold, by=lead, came_off="free")
    client.force_login(hand)
    page = client.get("/tools/DECK-2A/").text
    address = f"/tools/DECK-2A/tell/?of={mine.number}"
    assert address in page
    assert f"?of={others.number}" not in page
    form = client.get(address).context["form"]
    assert form["note"].value().startswith(f"Entry {mine.number} is wrong: Pulled, free.")
    for nonsense in ("99", "x", "9" * 30):
        assert not client.get(f"/tools/DECK-2A/tell/?of={nonsense}").context["form"]["note"].value()


def test_every_hand_reads_it_on_the_tool_and_before_a_lay_up_until_a_lead_has_seen_it(client, hand, lead, shop, told):
    pages, line = ("/tools/DECK-2A/", "/tools/DECK-2A/lay-up/"), "Told to the lead, [^<]*: soft spot at the bow"
    client.force_login(hand)
    for page in pages:
        assert re.search(line, client.get(page).text)
    client.force_login(lead)
    client.post(saw(told))
    for page in pages:
        assert not re.search(line, client.get(page).text)
