"""The page of checklists: begun with common practice, changed as one list, put back, and older versions read."""

import pytest

from tooling.models import Checklist
from tooling.services.checklists import STARTERS, Item, items_of, last_version

pytestmark = pytest.mark.django_db
PAGE = "/checklists/?kind=mold&for=look_over"
TWO = {"words.0": "Edges", "words.1": "Gloss", "quantity.1": "gloss", "unit.1": "GU", "spots.1": "3", "words.2": ""}


def stands():
    return items_of(last_version("mold", "look_over"))


def keep(client, do="keep", **said):
    return client.post(PAGE, {"read": "0", "do": do, **said})


def test_a_lead_begins_with_common_practice_that_says_so(client, lead):
    client.force_login(lead)
    assert "Common practice, no source: set your own." in client.get(PAGE).text
    client.post(PAGE, {"do": "starter"})
    assert [one.words for one in stands()] == [str(one.words) for one in STARTERS["mold", "look_over"]]
    assert Checklist.objects.get().made_by == lead
    assert not Checklist.objects.exclude(kind="mold").exists()


def test_each_change_is_a_version_that_can_be_put_back_and_read(client, lead):
    client.force_login(lead)
    answer = keep(client, **TWO)
    assert stands() == [Item("Edges"), Item("Gloss", "gloss", "GU", "", 3)]
    assert keep(client, **TWO).url == PAGE  # the same again makes no version
    answer = keep(client, "earlier.1", **{**TWO, "read": "1"})
    assert [one.words for one in stands()] == ["Gloss", "Edges"]
    assert "As it was" in client.get(answer.url).text
    client.post(PAGE, {"do": "put_back.2"})
    assert [one.words for one in stands()] == ["Edges", "Gloss"]
    page = client.get("/checklists/mold/look_over/2/").text
    assert page.index("Gloss") < page.index("Edges")
    assert "A later version is in its place." in page
    assert client.get("/checklists/mold/look_over/9/").status_code == 404


def test_what_is_wrong_stands_at_its_line_and_nothing_typed_is_lost(client, lead):
    client.force_login(lead)
    for odd in ({"unit.1": ""}, {"spots.1": "many"}, {"words.1": "edges"}):
        page = keep(client, **{**TWO, **odd})
        assert page.context["rows"][1].wrong
        assert 'value="Edges"' in page.text
    assert not Checklist.objects.exists()


def test_what_somebody_changed_meanwhile_is_not_written_over(client, lead):
    client.force_login(lead)
    keep(client, **TWO)
    page = keep(client, **{"words.0": "Frame"})
    assert "meanwhile" in page.text
    assert 'value="Frame"' in page.text
    assert len(stands()) == 2


def test_a_hand_reads_it_and_changes_nothing(client, hand, lead):
    client.force_login(lead)
    keep(client, **TWO)
    client.force_login(hand)
    page = client.get(PAGE).text
    assert "Gloss" in page
    assert "Keep the list" not in page
    assert keep(client, "out.0", **TWO).status_code == 403
    assert len(stands()) == 2
