"""What a print of tags says of itself: refused, done, and that it did not come out."""

import pytest

from tests.shared.paper.needs import pango
from tests.tooling.views.test_tags import LABELS, PRINT, rack, site
from tests.tooling.views.works import do
from tooling.models import Tool

__all__ = ["rack", "site"]
pytestmark = [pytest.mark.django_db, pango, pytest.mark.both]


def test_they_did_not_come_out(sign_in, rack):
    client = sign_in("hand")
    address = client.post(f"{PRINT}?of=list", LABELS).url
    assert "No tool wants a tag" in client.get("/tags/").text
    assert "put them back" in client.get(address).text
    for said in ("3 tools are on the list again", "No tool came on the list by that"):
        assert said in client.post(f"{address}put-back/", follow=True).text
    assert "3 of its tools stand on the list" in client.get(address).text
    assert client.get("/tags/").text.count("did not come out") == 4  # three tools, and the print itself
    assert client.get(f"{address}put-back/").status_code == 405


def test_a_print_of_which_nothing_can_be_put_back_does_not_offer_it(sign_in, rack):
    client = sign_in("hand")
    old = client.post(f"{PRINT}?tool=WING4", LABELS).url
    client.post(f"{PRINT}?tool=WING4", LABELS)
    do("hold", Tool.objects.get(code="DECK-2A"), reason="a chip")
    held = client.post(f"{PRINT}?tool=DECK-2A&held=yes", LABELS).url
    for address, said in ((old, "Nothing of it waits to be put back"), (held, "Held tags are on no list")):
        text = client.get(address).text
        assert (said in text, "put them back" in text, "left the list" in text) == (True, False, False)
    assert "Held tags are on no list" in client.post(f"{held}put-back/", follow=True).text


def test_a_refused_print_says_that_nothing_was_printed(sign_in, rack):
    text = sign_in("hand").post(f"{PRINT}?tool=WING4", {**LABELS, "stock": "custom", "wide": "1", "high": "1"}).text
    assert ("Nothing was printed:" in text, "Not written" in text) == (True, False)


def test_a_reader_is_told_who_prints(sign_in, rack):
    assert "Who logs deeds prints" in sign_in("reader").get(f"{PRINT}?tool=WING4").text
    assert "Who logs deeds prints" not in sign_in("hand").get(f"{PRINT}?tool=WING4").text
