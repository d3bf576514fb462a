"""What was just written is found by who wrote it when, however long the histories of the tools are."""

from functools import partial

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Shop, triggers
from tooling.selectors.just_written import just_written
from tooling.selectors.together import written_lately
from tooling.selectors.wall import strips
from tooling.services import deeds

pytestmark = pytest.mark.django_db


@pytest.fixture
def asks(shop, station):
    deeds.log_coat(shop.mold, by=None, recorded_by=station)
    at, here = now(), Shop.current()
    return {
        "the wall": partial(strips, station, at, here),
        "a strip of tape": partial(just_written, shop.mold, station, at, here),
        "several tools": partial(written_lately, [shop.mold.pk, shop.insert.pk], station, at),
    }


@pytest.mark.sqlite
@pytest.mark.parametrize("gathered", [False, True])
@pytest.mark.parametrize("name", ["the wall", "a strip of tape", "several tools"])
def test_by_its_index_with_statistics_and_without(shop, asks, name, gathered):
    for _ in range(20):
        happened.log_coat(shop.insert)
    with connection.cursor() as cursor:
        if gathered:
            cursor.execute("ANALYZE")
        with CaptureQueriesContext(connection) as asked:
            assert asks[name]()
        lately = [one["sql"] for one in asked if '"recorded_at" >' in one["sql"]]
        plans = [str(cursor.execute(f"EXPLAIN QUERY PLAN {sql}").fetchall()) for sql in lately]
    assert plans
    assert all("entry_recorded_by_at (recorded_by_id=? AND recorded_at>?)" in plan for plan in plans)


def test_the_index_left_the_history_protected(db):
    assert triggers.missing(connection) == []
