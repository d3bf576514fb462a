"""Which pulls count until a look-over: those that reached the tool since somebody looked at it, until the moment."""

from datetime import timedelta

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Kind, Shop, Tool
from tooling.selectors.look_overs import look_over, look_overs
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


def left(tool, at=None):
    tool = Tool.objects.get(pk=tool.pk)
    return look_over(tool, at or now() + timedelta(seconds=1), Shop.current().zone).pulls


@pytest.fixture
def counted(shop):
    Tool.objects.update(inspect_every_pulls=10)
    return shop


def test_an_insert_counts_the_pulls_of_its_molds_while_it_is_in(counted):
    other = add_tool(code="OTHER", name="Deck", kind=Kind.MOLD, release_system=counted.wax)
    happened.log_pull(counted.mold, count=2, came_off="free")
    happened.log_pull(other, came_off="free")
    assert left(counted.insert) == 8
    happened.remove(counted.insert)
    happened.log_pull(counted.mold, came_off="free")
    happened.install(counted.insert, mold=other)
    happened.log_pull(other, count=3, came_off="free")
    assert (left(counted.insert), left(counted.mold)) == (5, 7)


def test_one_that_stuck_in_the_part_came_off_with_it(counted):
    happened.lay_up(counted.mold)
    happened.end_lay_up(counted.mold)
    happened.remove(counted.insert)
    happened.log_pull(counted.mold, came_off="free")
    assert left(counted.insert) == 9
    happened.log_pull(counted.mold, came_off="free")
    assert left(counted.insert) == 9


def test_a_lay_up_that_was_given_up_is_no_pull(counted):
    happened.lay_up(counted.mold)
    happened.abandon(counted.mold)
    happened.remove(counted.insert)
    happened.log_pull(counted.mold, came_off="free")
    assert left(counted.insert) == 10


def test_it_is_counted_anew_from_a_look_over_and_not_beyond_the_moment(counted):
    happened.log_pull(counted.mold, came_off="free")
    then = now()
    happened.inspect(counted.insert, passed=True)
    happened.log_pull(counted.mold, came_off="free")
    assert (left(counted.insert), left(counted.mold)) == (9, 8)
    assert (left(counted.insert, then), left(counted.mold, then)) == (9, 9)


def test_all_are_counted_in_one_query(counted, django_assert_num_queries):
    tools, zone = list(Tool.objects.all()), Shop.current().zone
    with django_assert_num_queries(1):
        found = look_overs(tools, now() + timedelta(seconds=1), zone)
    assert {found[one.pk].pulls for one in tools} == {10}
    Tool.objects.update(inspect_every_pulls=None)
    with django_assert_num_queries(0):
        assert look_overs(Tool.objects.none(), now(), zone) == {}
