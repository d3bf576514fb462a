"""Several tools in one go: all or none, and twice is once."""

from uuid import uuid4

import pytest

from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry
from tooling.services import deeds
from tooling.services.deeds.together import NotAll
from tooling.services.recheck import differences
from tooling.services.tools import rules

__all__ = ["shop"]
pytestmark = pytest.mark.django_db


def coat(tools, hand, token=None, **said):
    said = {"by": hand, "recorded_by": hand, **said}
    return deeds.coat_together(tools, "coat", token=token or uuid4(), lot="14", **said)


def test_one_coat_on_each_and_twice_is_once(shop, hand):
    token, before = uuid4(), Entry.objects.count()
    first = coat([shop.insert, shop.mold], hand, token)
    assert coat([shop.insert, shop.mold], hand, token) == first
    assert [(one.tool, one.kind, one.payload["lot"]) for one in first] == [
        (shop.insert, "coat", "14"), (shop.mold, "coat", "14"),
    ]  # fmt: skip
    assert Entry.objects.count() == before + 2
    assert not list(differences(rules()))


def test_one_that_is_refused_is_named_and_nothing_is_written(shop, hand):
    before = Entry.objects.count()
    with pytest.raises(NotAll) as refusal:
        coat([shop.mold, shop.mask, shop.insert], hand)
    assert list(refusal.value.by_tool) == ["COAM-TRIM"]
    assert "trim mask" in refusal.value.by_tool["COAM-TRIM"]
    assert Entry.objects.count() == before


def test_they_are_rubbed_out_in_one_go_or_not_at_all(shop, hand):
    written, token = coat([shop.mold, shop.insert], hand), uuid4()
    old = happened.log_coat(shop.mold)
    with pytest.raises(NotAll):
        deeds.rub_out_together([old, written[1]], recorded_by=hand, token=uuid4())
    for _ in range(2):
        deeds.rub_out_together(written, recorded_by=hand, token=token)
    assert Entry.objects.filter(kind="void").count() == 2
