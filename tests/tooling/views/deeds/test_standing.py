"""Stop: do not use; and looking at it."""

import pytest

from tests.tooling.views.deeds.conftest import errors
from tooling.models import Entry, Flag, Shop, Summary

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def held(tool):
    return Summary.objects.get(tool=tool).held_since is not None


def test_it_is_held_at_once_and_a_cross_is_taped_on_it(client, send, shop):
    answer = send("hold", seen=["chip"], places=["flange"], words="by the second bolt")
    assert answer.url == "/tools/DECK-2A/hold/"
    assert held(shop.mold)
    assert Entry.objects.get(kind="hold").payload["reason"] == "chip, flange: by the second bolt"
    page = client.get(answer.url)
    assert "Tape a cross on it now." in page.text
    assert "Rub it out" in page.text


def test_a_stop_is_never_refused(send):
    token = "7e0d6c70-62c8-4b3e-9d4c-3a5b8d6f1c11"
    assert [send("hold", token=token).status_code for _twice in range(2)] == [302, 302]
    assert send("hold").status_code == 302
    assert send("hold", seen=["crack"]).status_code == 302
    assert Entry.objects.filter(kind="hold").count() == 3


def test_a_trim_mask_is_stopped_as_well(client, send, shop):
    assert send("hold", code="COAM-TRIM").status_code == 302
    assert held(shop.mask)
    for address in ("/tools/COAM-TRIM/", "/tools/COAM-TRIM/looked-at/", "/tools/COAM-TRIM/hold/"):
        assert "no gloves at a turning cutter" in client.get(address).text
    assert "turning cutter" not in client.get("/tools/DECK-2A/hold/").text


def test_what_is_offered_is_what_a_tool_of_that_kind_has(client, shop):
    def offered(code, name):
        return [value for value, _said in client.get(f"/tools/{code}/{name}/").context["form"].fields["places"].choices]

    assert offered("COAM-TRIM", "hold") == ["guiding_edge", "datum_pin", "face", "bolt_hole"]
    assert "return" in offered("DECK-2A", "hold")
    kinds = client.get("/tools/COAM-TRIM/defects/new/").context["form"].fields
    stops = client.get("/tools/COAM-TRIM/hold/").context["form"].fields
    assert list(kinds["kind"].choices) == list(stops["seen"].choices)
    assert list(kinds["place"].choices) == list(stops["places"].choices)


def test_looked_at_frees_it_and_the_same_hand_is_flagged(client, send, shop):
    send("hold")
    assert "Test hand" in client.get("/tools/DECK-2A/looked-at/").text
    assert send("looked_at", passed="yes").url == "/tools/DECK-2A/"
    assert not held(shop.mold)
    assert Flag.objects.filter(flag="inspected_by_same_hand").exists()


def test_with_formal_records_another_hand_has_to_look(send, shop):
    Shop.objects.update(formal_records=True)
    send("hold")
    answer = send("looked_at", passed="yes", note="only a scratch")
    assert "another person looks at it" in answer.text
    assert "only a scratch" in answer.text
    assert held(shop.mold)


def test_before_it_is_looked_at_the_page_says_who_may_free_it(client, send, shop, lead):
    send("hold")
    assert "Who may free it" not in client.get("/tools/DECK-2A/looked-at/").text
    Shop.objects.update(formal_records=True)
    said = client.get("/tools/DECK-2A/looked-at/").text.partition("Who may free it:")[2].partition("</p>")[0]
    assert (lead.name in said, "Test hand" in said) == (True, False)


def test_afterwards_it_is_said_what_became_of_each_hold(client, send, shop):
    send("hold", words="first crack")
    send("hold", words="second crack")
    page = client.get(send("looked_at", passed="no", note="both go through").url).text
    assert "Take the cross" not in page
    assert page.count("Still holds it: ") == 2
    assert "both go through" in page.partition("History")[0]
    page = client.get(send("looked_at", passed="yes").url).text
    assert page.count("No longer holds it: ") == 3
    assert "Take the cross and its held tag off now." in page
    assert "first crack" in page.partition("History")[0]


def test_it_has_to_be_said_whether_it_passed(send, shop):
    send("hold")
    assert errors(send("looked_at", note="hm")) == {"passed": ["Say whether it may be used."]}
    send("looked_at", passed="no")
    assert held(shop.mold)
