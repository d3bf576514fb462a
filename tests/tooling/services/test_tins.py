"""Tins that are open at a station or with a person."""

from uuid import uuid4

import pytest

from shared.errors import Refused, TokenReused
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Tin
from tooling.selectors.tins import lot_of, open_tins
from tooling.services.tins import close_tin, open_tin

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


def test_the_next_one_closes_the_one_before(shop, hand, station):
    for lot in ("13", "14"):
        open_tin(shop.wax, holder=station, stuff="coat", lot=lot, by=hand)
    open_tin(shop.wax, holder=hand, stuff="coat", lot="9", by=hand)
    assert open_tins(station, "WAX")["coat"].lot == "14"
    assert open_tins(hand, "WAX")["coat"].lot == "9"
    assert Tin.objects.get(lot="13").closed_at is not None


def test_sealer_and_coats_have_tins_of_their_own(shop, hand):
    for stuff in ("sealer", "coat"):
        open_tin(shop.wax, holder=hand, stuff=stuff, lot=stuff[0], by=hand)
    assert {stuff: tin.lot for stuff, tin in open_tins(hand, "WAX").items()} == {"sealer": "s", "coat": "c"}
    close_tin(shop.wax, holder=hand, stuff="coat")
    assert list(open_tins(hand, "WAX")) == ["sealer"]


def test_twice_is_one_and_something_else_is_a_conflict(shop, hand):
    token = uuid4()
    said = {"holder": hand, "stuff": "coat", "by": hand, "token": token}
    assert open_tin(shop.wax, lot="14", **said) == open_tin(shop.wax, lot=" 14 ", **said)
    with pytest.raises(TokenReused):
        open_tin(shop.wax, lot="15", **said)
    with pytest.raises(Refused):
        open_tin(shop.wax, lot="  ", **said)


def test_what_the_page_showed_is_what_is_written(shop, hand, lead):
    shown = open_tin(shop.wax, holder=hand, stuff="coat", lot="14", by=hand)
    open_tin(shop.wax, holder=hand, stuff="coat", lot="15", by=hand)
    assert lot_of(f"{shown.pk}", "coat", hand) == "14"
    assert [lot_of(*asked) for asked in (("x,-1,9" * 9, "coat", hand), (f"{shown.pk}", "coat", lead))] == ["", ""]
