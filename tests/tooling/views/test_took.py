"""The page of what it took to make a tool, and its table."""

import csv
from decimal import Decimal

import pytest

from tests.tooling.views.works import ago, do
from tooling.models import MillingPass
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def plug(morning):
    """A plug that was filled and milled, and is done."""
    tool = add_tool(code="P-1", kind="plug", name="Rudder plug", in_making=True)
    said = {"work": "filler", "minutes": Decimal(390), "material": "body filler", "value": Decimal(2), "unit": "kg"}
    do("make_step", tool, at=ago(days=9), step="filling", count=3, **said)
    do("make_step", tool, at=ago(days=8), step="milling", work="machining", minutes=Decimal(70), note="=1+1")
    do("accept", tool, at=ago(days=2))
    MillingPass.objects.create(tool=tool, order=1, kind="roughing", minutes_taken=60)
    return tool


def test_it_says_hours_and_material_and_what_is_not_added(sign_in, plug):
    text = sign_in("reader", units="us").get("/tools/P-1/took/").text
    assert "6 h 30 min by hand, 1 h of machining, ≈ 4.4 lb of body filler." in text
    assert "From 3 May to 10 May, when it was accepted." in text
    assert "Filler <small>3 coats</small>" in text
    assert '<dt class="total">By hand</dt><dd class="total">6 h 30 min</dd>' in text
    assert "Entries say 1 h 10 min of machining as well: they are not added" in text


def test_its_table_adds_up_to_the_same(sign_in, plug):
    reply = sign_in("reader").get("/tools/P-1/took.csv")
    rows = list(csv.DictReader(reply.text.lstrip("\ufeff").splitlines()))
    assert [row["counted [min]"] for row in rows] == ["390", "0", "60"]
    assert rows[1]["note"] == "'=1+1"


def test_it_offers_others_of_its_kind(sign_in, plug):
    next_one = add_tool(code="P-2", kind="plug", name="Next plug", in_making=True)
    text = sign_in("hand").get("/tools/P-2/took/").text
    assert "Nothing was written of what it took." in text
    assert 'href="/tools/P-1/took/"' in text
    do("make_step", next_one, at=ago(days=1), step="filling", work="skin", minutes=Decimal(90))
    assert "1 h 30 min of work so far, still in the making." in sign_in("hand").get("/tools/P-1/took/").text


def test_an_unknown_code_is_not_found(sign_in, plug):
    client = sign_in("reader")
    assert client.get("/tools/NO-SUCH/took/").status_code == 404
    assert client.get("/tools/p-1/took/").url == "/tools/P-1/took/"


def test_passes_without_minutes_are_said(sign_in, plug):
    MillingPass.objects.create(tool=plug, order=2, kind="finishing")
    said = "One milling pass has no minutes. Entries say 1 h 10 min of machining, and nobody knows how much of that"
    assert said in sign_in("reader").get("/tools/P-1/took/").text


def test_its_cost_is_no_sum_of_its_hours(sign_in, plug):
    plug.cost = Decimal(8300)
    plug.save()
    assert "Not worked out from these hours" in sign_in("reader").get("/tools/P-1/took/").text
