"""Tins that are open at a station or with a person."""

from datetime import date, timedelta
from uuid import uuid4

import pytest

from shared.errors import Refused, TokenReused
from tests.tooling.views.deeds.conftest import shop
from tooling.models import Tin
from tooling.selectors.tins import lot_of, open_tins
from tooling.services import tins
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


def test_twice_is_one_and_something_else_is_a_conflict(shop, hand, lead):
    token = uuid4()
    said = {"holder": hand, "stuff": "coat", "by": hand, "token": token}
    assert open_tin(shop.wax, lot="14", **said) == open_tin(shop.wax, lot=" 14 ", **said)
    for other in ({"lot": "15"}, {"lot": "14", "holder": lead}, {"lot": "14", "expires_on": date(2030, 1, 1)}):
        with pytest.raises(TokenReused):
            open_tin(shop.wax, **{**said, **other})
    with pytest.raises(Refused):
        open_tin(shop.wax, lot="  ", **said)


def test_what_the_page_showed_is_what_is_written(shop, hand, lead):
    shown = open_tin(shop.wax, holder=hand, stuff="coat", lot="14", by=hand)
    open_tin(shop.wax, holder=hand, stuff="coat", lot="15", by=hand)
    assert lot_of(f"{shown.pk}", "coat", hand) == "14"
    assert [lot_of(*asked) for asked in (("x,-1,9" * 9, "coat", hand), (f"{shown.pk}", "coat", lead))] == ["", ""]


def test_the_same_form_twice_at_one_instant_is_one_tin(shop, hand, monkeypatch):
    said = {"holder": hand, "stuff": "coat", "lot": "14", "by": hand, "token": uuid4()}
    first = open_tin(shop.wax, **said)
    looks = iter([lambda _tin: None, tins._opened])  # it was not there yet when it was looked for
    monkeypatch.setattr(tins, "_opened", lambda tin: next(looks)(tin))
    assert open_tin(shop.wax, **said) == first
    assert open_tins(hand, "WAX")["coat"] == first


def test_one_that_was_held_up_is_older_than_one_opened_meanwhile(shop, hand):
    said = {"holder": hand, "stuff": "coat", "by": hand}
    open_tin(shop.wax, lot="14", **said)
    held_up = open_tin(shop.wax, lot="13", ago=timedelta(minutes=20), **said)
    assert open_tins(hand, "WAX")["coat"].lot == "14"
    assert held_up.closed_at - held_up.opened_at > timedelta(minutes=19)
