"""Go or no-go for the time and the part that are chosen, not for now."""

import pytest

from tooling.models import Entry
from tooling.views.deeds.lay_up import BESIDE

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/"
# Yesterday morning its coats were not on yet; now they are.
THEN = {"part_typed": "SK520-DECK", "at": "yesterday", "at_time": "08:00"}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def keys(page):
    return [one.key for one in page.context["stops"]]


def test_the_card_follows_the_time_that_is_chosen(client, send):
    assert keys(client.get(PAGE)) == []
    page = send("lay_up", look="1", **THEN)
    assert keys(page) == ["not_prepared DECK-2A"]
    assert "No go" in page.text
    assert 'name="seen" value="not_prepared DECK-2A"' in page.text
    assert keys(send("lay_up", look="1", part_typed="SK520-DECK")) == []
    assert not Entry.objects.filter(kind="lay_up").exists()


def test_an_open_page_asks_for_all_that_changes_with_it(client):
    page = client.get(PAGE).text
    assert page.count(f'hx-select-oob="{BESIDE}"') >= 2
    assert all(f'id="{one[1:]}"' in page for one in BESIDE.split(","))


def test_without_script_the_card_is_shown_once(send):
    page = send("lay_up", **THEN)
    assert (page.status_code, keys(page)) == (200, ["not_prepared DECK-2A"])
    said = {"seen": "not_prepared DECK-2A", "anyway": "happened"}
    assert send("lay_up", **THEN, **said).status_code == 302


def test_no_reason_is_chosen_beforehand(send):
    page = send("lay_up", **THEN)
    chips = page.text.split('id="id_reason"')[1].split("</fieldset>")[0]
    assert " checked" not in chips
    said = {"seen": "not_prepared DECK-2A", "anyway": "start", "reason": "other"}
    assert page.context["form"]["reason"].field.choices[-1][0] == "other"
    assert "reason" in send("lay_up", **THEN, **said).context["form"].errors
