"""What was read last and is past a limit is no dearer than a history is long."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection

from tests.tooling.views.works import NOW
from tooling.models import Entry
from tooling.selectors.past_limits import past_limits
from tooling.services.reading_limits import set_limit
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
GLOSS = {"quantity": "gloss", "unit": "GU", "geometry": "60°"}


@pytest.fixture
def limited():
    return set_limit(kind="mold", **GLOSS, limit=Decimal(70), worse="down")


def told(code, visits):
    """Six readings and a polish a visit, as an import writes them: all at once."""
    tool = add_tool(code=code, name=code, kind="mold")
    facts = [("polish", {}), *(("reading", {**GLOSS, "value": "69", "spot": f"spot {n}"}) for n in range(6))] * visits
    Entry.objects.bulk_create(
        Entry(
            tool=tool, number=100 + n, kind=kind, payload=said, recorded_at=NOW, link="0" * 64,
            at=NOW - timedelta(minutes=len(facts) - n),
        ) for n, (kind, said) in enumerate(facts)
    )  # fmt: skip
    return tool


def steps(tool):
    """How many hundred steps of its machine the database takes."""
    taken = []
    connection.connection.set_progress_handler(lambda: taken.append(1) and None, 100)
    try:
        assert [one.entry.tool_id for one in past_limits([tool], NOW)] == [tool.pk]
    finally:
        connection.connection.set_progress_handler(None, 0)
    return len(taken)


@pytest.mark.sqlite
def test_a_history_four_times_as_long_takes_about_four_times_the_steps(limited):
    short, long = told("SHORT", 20), told("LONG", 80)
    assert steps(long) < 6 * steps(short)
