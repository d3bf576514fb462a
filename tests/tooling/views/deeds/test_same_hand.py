"""At a station only the hand that wrote it rubs out what is written on several tools, or the temperature."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened, page_says
from tooling.models import Entry, Temperature

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("who", "pin", "gone"), [(None, "", False), (1, "5061", False), (0, "", False), (0, "8205", True)]
)
def test_a_batch_is_rubbed_out_by_the_hand_that_wrote_it(client, shop, station, two, who, pin, gone):
    coat = happened.log_coat(shop.mold, by=two[0], recorded_by=station)
    sent = {"token": str(uuid4()), "entry": [coat.pk], "tool": ["DECK-2A"], "pin": pin}
    page = client.post("/coats/together/rub-out/", sent | ({} if who is None else {"by": two[who].pk}))
    assert Entry.objects.filter(kind="void", voids=coat).exists() is gone
    if not gone:
        assert f'name="entry" value="{coat.pk}"' in page.text
        assert "Mara: rub it out" in page.text
        assert "5061" not in page_says(page)


def test_a_temperature_is_rubbed_out_by_the_hand_that_read_it(client, shop, station, two):
    at = now() - timedelta(minutes=1)
    one = Temperature.objects.create(at=at, recorded_at=at, value_c=21, by=two[1], recorded_by=station)
    address = f"/temperature/{one.pk}/rub-out/"
    page = client.post(address, {"back": "/wall/", "by": two[1].pk, "pin": "4826"})
    assert 'name="back" value="/wall/"' in page.text
    assert "Nothing was rubbed out." in page.text
    assert client.post(address, {"back": "/wall/", "by": two[1].pk, "pin": "5061"}).url == "/wall/"
    one.refresh_from_db()
    assert one.struck_at is not None


def test_only_what_was_put_on_there_is_rubbed_out_on_the_page_of_several(client, shop, hand):
    hold = happened.hold(shop.mold, by=hand, recorded_by=hand)
    coat = happened.log_coat(shop.mold, by=hand, recorded_by=hand)
    client.force_login(hand)
    for sent in ({"entry": [hold.pk], "tool": ["DECK-2A"]}, {"entry": [coat.pk], "tool": ["HULL-2A"]}):
        client.post("/coats/together/rub-out/", {"token": str(uuid4()), **sent})
    assert not Entry.objects.filter(kind="void").exists()
