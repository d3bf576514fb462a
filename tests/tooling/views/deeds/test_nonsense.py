"""Nonsense in every field of every deed: never a broken page, nothing half written.

Each field is sent some of it, each deed other parts of it; `make faults` sends all of it to all of them.
"""

import os
from itertools import cycle
from uuid import uuid4

import pytest
from django.db import connection
from django.forms import BooleanField, ChoiceField, UUIDField
from django.urls import reverse

from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, Summary
from tooling.services.recheck import differences
from tooling.services.tools import rules

pytestmark = [pytest.mark.django_db, pytest.mark.both]
NONSENSE = [
    "", " ", "0", "-1", "1e400", "NaN", "9" * 30, "9" * 5000, "\x00", "a\x00b", "💥" * 50, "x" * 10_000, "<b>'\"&",
    "%(name)s {0} {{ 7 }}", "0001-01-01T00:00", "9999-12-31T23:59:59", "9999-12-31", "2026-02-30", "24:00", "null",
    "true", "[]", "../../etc", "‮live", "SK520-DECK", "yes", "on", "stuck", "whole", "exact", "DECK-2A", "1",
]  # fmt: skip
# What breaks the most, tried in each field by itself among good ones; on PostgreSQL what a database minds, since what
# only forms read is answered before it is asked.
WORST = ["9" * 5000, "9" * 30, "\x00", "💥" * 50, "x" * 10_000, "0001-01-01T00:00", "9999-12-31T23:59:59"]
if connection.vendor == "postgresql":
    WORST = ["9" * 30, "\x00", "x" * 10_000, "9999-12-31T23:59:59"]
ALL_OF_IT = "EXAMPLES" in os.environ
NAMES = [
    "lay_up", "lay_up_done", "abandoned", "pulled", "coat", "film", "strip", "hold", "looked_at", "seen",
    "inserts_back", "rub_out", "void", "correct",
]  # fmt: skip
WITH_NUMBER = {"seen", "inserts_back", "rub_out", "void", "correct"}
# What many deeds ask in the same words is tried in full with this one, which asks the most of it.
IN_FULL = "pulled"
ASKED_BY_MANY = {
    "token", "at", "at_time", "at_exact", "of_two", "note", "waited", "shown", "look", "halves", "alone",
}  # fmt: skip


@pytest.fixture
def address(client, shop, lead, name):
    """The address of a deed on a mold that is in use, for a lead who is signed in."""
    client.force_login(lead)
    happened.log_pull(shop.mold, came_off="stuck", part="SK520-DECK")
    number = Entry.objects.filter(tool=shop.mold).last().number
    return reverse(name, kwargs={"code": "DECK-2A", **({"number": number} if name in WITH_NUMBER else {})})


def fields_of(client, address):
    """The fields of the deed's own page; a deed that has none is only a button."""
    form = (client.get(address).context or {}).get("form")
    return dict(sorted(form.fields.items())) if form is not None else {"token": UUIDField()}


def worst_of(name, field, kind, turn):
    """All of it where most is asked, else two in turn; one where it is all the same: no choice, or asked by many."""
    offers = isinstance(kind, ChoiceField | BooleanField)
    if offers or (name != IN_FULL and field in ASKED_BY_MANY):
        return [WORST[turn % len(WORST)]]
    if ALL_OF_IT or name == IN_FULL:
        return WORST
    begin = turn + NAMES.index(name)
    return [WORST[(begin + step) % len(WORST)] for step in (0, 2)]


def assert_whole(client, address):
    for summary in Summary.objects.select_related("tool"):
        assert summary.count == Entry.objects.filter(tool=summary.tool).count()
    assert not list(differences(rules()))
    for page in ("/", "/tools/DECK-2A/", "/tools/HATCH7/", address):
        assert client.get(page).status_code in (200, 302)


@pytest.mark.parametrize("name", NAMES)
def test_one_odd_field_is_answered_and_the_ledger_stays_whole(client, address, name):
    for turn, (field, kind) in enumerate(fields_of(client, address).items()):
        for odd in worst_of(name, field, kind, turn):
            good = {"token": str(uuid4()), "at": "now", "came_off": "free", "passed": "no", "what": "coat"}
            assert client.post(address, {**good, field: odd}).status_code in (200, 302, 409), (field, odd[:20])
    assert_whole(client, address)


@pytest.mark.sqlite  # the form alone answers these: hardly one is written
@pytest.mark.parametrize("name", NAMES)
def test_odd_fields_together_are_answered_and_the_ledger_stays_whole(client, address, name):
    fields, odds = fields_of(client, address), cycle(NONSENSE)
    for _odd in NONSENSE if ALL_OF_IT else NONSENSE[NAMES.index(name) % 3 :: 3]:
        typed = {field: next(odds) for field in fields if field != "token"}
        assert client.post(address, {**typed, "token": str(uuid4())}).status_code in (200, 302, 409)
    assert_whole(client, address)


@pytest.mark.parametrize("number", ["0", "999999", "9" * 25, "-1", "x"])
def test_an_entry_that_is_not_there_is_not_found(client, shop, lead, number):
    client.force_login(lead)
    for name in sorted(WITH_NUMBER):
        address = f"/tools/DECK-2A/entries/{number}/{name.replace('_', '-')}/"
        assert client.get(address).status_code == 404, name
        assert client.post(address, {"why": "x", "token": uuid4(), "by": lead.pk}).status_code == 404, name


@pytest.mark.parametrize("code", ["NOBODY", "DECK-2A%00", "💥", "x" * 900])
def test_a_tool_that_is_not_there_is_not_found(client, shop, lead, code):
    client.force_login(lead)
    for name in NAMES:
        middle = "entries/1/" if name in WITH_NUMBER else ""
        assert client.post(f"/tools/{code}/{middle}{name.replace('_', '-')}/", {}).status_code == 404, name
