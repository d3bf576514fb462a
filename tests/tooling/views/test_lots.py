"""Hard pulls by lot, on the page of a recipe."""

import re

import pytest

from tests.tooling.views.deeds.conftest import happened, shop
from tooling.selectors import lots

__all__ = ["shop"]
pytestmark = [pytest.mark.django_db, pytest.mark.both]


def told(client):
    text = client.get("/recipes/WAX/").text.partition('id="lots"')[2].partition("</table>")[0]
    return [re.sub(r"<[^>]+>", " ", row).split()[:5] for row in text.split("<tr>")[2:]]


def test_counts_stand_beside_each_lot(client, reader, shop):
    client.force_login(reader)
    assert told(client) == []
    for lot, came_off in (("13", "tight"), ("14", "free"), ("14", "light")):
        happened.log_coat(shop.mold, lot=lot)
        happened.log_pull(shop.mold, came_off=came_off)
    gone = happened.log_coat(shop.mold, lot="15")
    happened.void(gone, reason="other mold")
    happened.log_coat(shop.mold, lot="16", release_system="SEMI")
    assert told(client) == [["14", "2", "0", "of", "2"], ["13", "1", "1", "of", "1"]]


def test_the_queries_do_not_grow_and_what_is_old_is_left_out(
    client, reader, shop, monkeypatch, django_assert_num_queries
):
    client.force_login(reader)
    for _ in range(3):
        happened.log_coat(shop.mold, lot="14")
        happened.log_pull(shop.mold, came_off="free")
    with django_assert_num_queries(2):
        assert lots.lots_of("WAX").whole
    monkeypatch.setattr(lots, "LOOKED_THROUGH", 2)
    found = lots.lots_of("WAX")
    assert (found.whole, [(one.coats, one.cycles) for one in found.counts]) == (False, [(1, 1)])
    assert "Only the newest entries of the shop are counted." in client.get("/recipes/WAX/").text
