"""The next look-over as the summary keeps it: step by step, counted again, filled in after an upgrade."""

from datetime import date, timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Person, Shop, Summary, Tool
from tooling.selectors import looks_wanted
from tooling.selectors.board_more import Morning
from tooling.services import look_overs
from tooling.services.catalogue import change_tool
from tooling.services.recheck import differences
from tooling.services.shop import change_shop
from tooling.services.tools import relay, rules
from trimfixtures.services.deeds import log_use

pytestmark = pytest.mark.django_db


def change(tool, **columns):
    change_tool(tool, by=Person.objects.named("Mara"), at=now(), columns=columns)


def kept(tool):
    return Summary.objects.values_list("look_left", "look_on").get(tool=tool)


def faults():
    return [str(one) for one in differences(rules())]


def test_it_follows_what_the_tool_says(shop):
    assert kept(shop.mold) == (None, None)
    change(shop.mold, inspect_every_pulls=5, inspect_every_days=30, built_on=date(2026, 1, 4))
    assert kept(shop.mold) == (5, date(2026, 2, 3))
    happened.log_pull(shop.mold, count=2, came_off="free")
    assert kept(shop.mold) == (3, date(2026, 2, 3))
    change(shop.mold, inspect_every_pulls=None, inspect_every_days=2**31 - 1)
    assert kept(shop.mold) == (None, None)  # no calendar has that day
    assert faults() == []


def test_pulls_reach_the_insert_and_a_void_takes_them_back(shop):
    for tool in (shop.mold, shop.insert):
        change(tool, inspect_every_pulls=4)
    pull = happened.log_pull(shop.mold, count=3, came_off="free")
    assert (kept(shop.mold)[0], kept(shop.insert)[0]) == (1, 1)
    happened.void(pull, reason="slip")
    assert (kept(shop.mold)[0], kept(shop.insert)[0]) == (4, 4)
    happened.log_pull(shop.mold, came_off="free", at=now() - timedelta(minutes=1), count=6)
    happened.inspect(shop.insert, passed=True)
    assert (kept(shop.mold)[0], kept(shop.insert)[0]) == (-2, 4)


def test_a_trim_mask_is_counted_by_the_parts_that_were_cut(shop):
    change(shop.mask, inspect_every_pulls=10)
    nobody = {"by": None, "recorded_by": None}
    cut = log_use(shop.mask, count=4, **nobody)
    log_use(shop.mask, count=3, at=now() - timedelta(hours=1), **nobody)
    assert kept(shop.mask)[0] == 3
    happened.void(cut, reason="slip")
    assert kept(shop.mask)[0] == 7
    happened.inspect(shop.mask, passed=True)
    assert kept(shop.mask)[0] == 10
    assert faults() == []


def test_days_are_counted_from_the_first_entry_where_nobody_says_when_it_was_built(shop):
    change(shop.mask, inspect_every_days=10)
    assert kept(shop.mask)[1] is None
    at = now()
    happened.take_note(shop.mask, note="arrived", at=at)
    said = happened.take_note(shop.mask, note="packed", at=at - timedelta(days=3))
    assert kept(shop.mask)[1] == (at - timedelta(days=3)).astimezone(rules().zone).date() + timedelta(days=10)
    happened.void(said, reason="slip")
    assert faults() == []


def test_an_upgrade_fills_it_in_and_the_check_finds_what_is_wrong(shop):
    change(shop.mold, inspect_every_pulls=4, inspect_every_days=10)
    good = kept(shop.mold)
    Summary.objects.update(look_left=None, look_on=None)
    assert len(faults()) == 2
    look_overs.fill()
    assert (kept(shop.mold), faults()) == (good, [])
    Summary.objects.filter(tool=shop.mold).update(look_left=99)
    assert "look_left" in faults()[0]
    relay()
    assert (kept(shop.mold), faults()) == (good, [])


def test_another_zone_has_other_days(shop):
    change(shop.mold, inspect_every_days=1)
    at = now().replace(hour=12, minute=0) - timedelta(days=40)
    happened.inspect(Tool.objects.get(pk=shop.mold.pk), passed=True, at=at)
    change_shop({"time_zone": "Pacific/Auckland"})
    assert kept(shop.mold)[1] == (at + timedelta(days=2)).date()


def test_where_more_want_one_than_are_counted_the_late_are_among_them(shop, monkeypatch):
    monkeypatch.setattr(looks_wanted, "COUNTED", 0)
    for tool, left in ((shop.mold, 2), (shop.insert, 1), (shop.mask, 0)):
        change(tool, inspect_every_pulls=5)
        Summary.objects.filter(tool=tool).update(look_left=left)
    board = looks_wanted.to_look_over(Morning(now(), Shop.current(), (), "metric"))
    assert [one.row.tool for one in board.lines] == [shop.mask]
