"""The check of a cut edge: whether it passed follows from what was found; failed it holds the trim mask."""

from decimal import Decimal
from functools import partial
from uuid import uuid4

import pytest

from shared.errors import Refused, TokenReused
from tests.tooling.views.deeds.conftest import shop
from tests.trimfixtures.services.test_trim import holds
from tooling.models import Entry
from tooling.services import deeds as of_tools
from trimfixtures.models import Feature, Mask
from trimfixtures.services import deeds

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


@pytest.fixture
def check(shop, hand):
    return partial(deeds.check_edge, shop.mask, by=hand, recorded_by=hand)


@pytest.mark.parametrize(
    ("points", "limit", "passed"),
    [
        ("bow: in; stern: in", None, True),
        ("bow: in; stern: out", None, False),
        ("bow @ 0: +0.5", Decimal("0.5"), True),
        ("bow @ 0: -0.51", Decimal("0.5"), False),
    ],
)
def test_whether_it_passed_follows_and_failed_it_is_held_once(check, shop, points, limit, passed):
    token = uuid4()
    for _ in range(2):
        entry = check(points=points, limit_mm=limit, token=token)
    assert entry.payload["passed"] is passed
    assert holds(shop.mask) == ([] if passed else ["hold"])
    assert shop.mask.entries.count() == (1 if passed else 2)


def test_the_tolerance_is_that_of_the_trim_mask_as_it_stands_when_it_is_written(check, shop):
    mask, token = Mask.objects.create(tool=shop.mask), uuid4()
    edge = Feature.objects.create(mask=mask, kind="edge", method="bearing", tolerance_mm="0.25")
    assert check(points="bow: +5", limit_mm=Decimal(30), token=token).payload["limit_mm"] == "0.25"
    edge.delete()
    again = check(points="bow: +5", limit_mm=Decimal(30), token=token)
    assert again.payload["passed"] is False
    with pytest.raises(TokenReused):
        check(points="bow: +5", limit_mm=Decimal(31), token=token)


def test_numbers_without_a_limit_are_refused_and_so_is_nothing(check, shop):
    with pytest.raises(Refused, match="how far off"):
        check(points="bow: +0.3")
    with pytest.raises(Refused, match="one point at least"):
        check(points="bow")
    assert not shop.mask.entries.exists()


def test_rubbed_out_the_hold_of_a_failed_check_goes_with_it(check, shop, hand):
    of_tools.rub_out(check(points="keel: out"), recorded_by=hand)
    assert holds(shop.mask) == []
    assert Entry.objects.filter(kind="void").count() == 2
