"""With formal records: what was brought back stands on the board and its page until it is accepted; settings say so."""

import pytest

from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.services.shop import change_shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def back(shop):
    """Brought back, looked at and freed."""
    change_shop({"formal_records": True})
    happened.retire(shop.mask, reason="worn")
    happened.reinstate(shop.mask, reason="one more")
    assert happened.inspect(shop.mask, passed=True)
    return shop.mask


def test_a_lead_gets_from_the_board_to_where_it_is_accepted(client, lead, back):
    client.force_login(lead)
    board = client.get("/").text
    assert "To be accepted" in board
    assert 'href="/tools/COAM-TRIM/accepted/"' in board
    page = client.get("/tools/COAM-TRIM/")
    assert page.context["said"].whole == "Brought back: not accepted yet."
    assert 'href="/tools/COAM-TRIM/accepted/"' in page.text
    happened.accept(back)
    assert "To be accepted" not in client.get("/").text


def test_a_hand_reads_it_and_is_sent_nowhere(client, hand, back):
    client.force_login(hand)
    assert "To be accepted" in client.get("/").text
    for address in ("/", "/tools/COAM-TRIM/"):
        assert "/tools/COAM-TRIM/accepted/" not in client.get(address).text


def test_what_is_held_stands_among_the_held_alone(client, lead, back):
    happened.hold(back, reason="chipped")
    client.force_login(lead)
    assert "To be accepted" not in client.get("/").text
    assert "Held" in client.get("/").text


@pytest.mark.parametrize(("now_on", "said"), [("yes", "accepted again before its use"), ("no", "may free it again")])
def test_turning_them_on_or_off_says_what_it_changes(client, lead, shop, now_on, said):
    change_shop({"formal_records": now_on == "no"})
    client.force_login(lead)
    form = client.get("/shop/").context["form"]
    typed = {name: form[name].value() for name in form.fields}
    typed = {name: "" if value is None else value for name, value in typed.items()}
    assert said in client.post("/shop/", {**typed, "formal_records": now_on, "do": "show"}).text
