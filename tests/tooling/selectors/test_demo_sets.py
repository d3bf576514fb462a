"""Every part of the demo: the command, one set alone and all sets together say the same."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from tests.fixtures import shelf
from tooling.models import PartRevision
from tooling.selectors.lay_up_from import lay_up_from, of_each
from tooling.selectors.set_row import as_row
from tooling.selectors.tool_set import tool_set, tool_sets

pytestmark = pytest.mark.django_db


def commanded(revision, at):
    said = StringIO()
    which = ("--revision", revision.revision, "--at", at.isoformat(), "--format", "json")
    call_command("tool_set", revision.part.number, *which, stdout=said)
    return json.loads(said.getvalue())


def test_all_ways_to_ask_are_answered_alike(django_assert_max_num_queries):
    at = shelf.load()
    revisions = list(PartRevision.objects.select_related("part"))
    with django_assert_max_num_queries(12):
        together = tool_sets(revisions, at)
        times = of_each(together.values())
    for one in revisions:
        alone = tool_set(one, at)
        row = as_row(alone, lay_up_from(alone))
        assert row == as_row(together[one.pk], times[one.pk]) == commanded(one, at)
        assert (row["lay_up_from"] is None) == (row["cannot"] is not None)
    assert len(revisions) > 20
    assert {row.cannot.code for row in times.values() if row.cannot} >= {"held", "not_confirmed"}
