"""Codes of tags: worked out once, kept for their address, for thousands in a few queries."""

import pytest
from django.db import IntegrityError, transaction

from shared.paper import qr
from tests.tooling.rows import make_tool
from tooling.models import Place, TagCode
from tooling.services.tags import codes

SITE = "http://192.168.1.20:8000"
pytestmark = pytest.mark.django_db


@pytest.fixture
def tools():
    return {tool.pk: tool.code for tool in (make_tool(f"K-{number}") for number in range(5))}


def test_a_code_is_worked_out_once(tools, monkeypatch):
    first = codes.of_tools(tools, SITE)
    assert {key: one.address for key, one in first.items()} == {
        key: f"HTTP://192.168.1.20:8000/T/{code}/" for key, code in tools.items()
    }
    monkeypatch.setattr(qr, "made", None)
    assert codes.of_tools(tools, SITE) == first


def test_another_address_makes_it_anew_in_its_place(tools):
    codes.of_tools(tools, SITE)
    key = next(iter(tools))
    renamed = {**tools, key: "NEW-1"}
    assert codes.of_tools(renamed, SITE)[key].address == "HTTP://192.168.1.20:8000/T/NEW-1/"
    moved = codes.of_tools(renamed, "https://shop.example")
    assert moved[key] == qr.made("HTTPS://SHOP.EXAMPLE/T/NEW-1/")
    assert TagCode.objects.count() == len(tools)
    assert set(TagCode.objects.values_list("address", flat=True)) == {one.address for one in moved.values()}


def test_a_place_and_a_tool_of_one_code_lead_to_their_own_pages(tools):
    place = Place.objects.create(code="K-1", name="Rack")
    assert codes.of_places({place.pk: place.code}, SITE)[place.pk].address == "HTTP://192.168.1.20:8000/P/K-1/"
    codes.of_tools(tools, SITE)
    assert TagCode.objects.filter(place=place).count() == 1


def test_only_looking_writes_nothing(tools):
    assert len(codes.of_tools(tools, SITE, keep=False)) == len(tools)
    assert not TagCode.objects.exists()


def test_many_cost_as_many_queries_as_few(tools, django_assert_num_queries):
    codes.of_tools(tools, SITE)
    with django_assert_num_queries(1):
        codes.of_tools(tools, SITE)
    with django_assert_num_queries(0):
        assert codes.of_tools({}, SITE) == {}


def test_a_code_is_of_one_thing(tools):
    place = Place.objects.create(code="R1", name="Rack")
    for of in ({}, {"tool_id": next(iter(tools)), "place": place}):
        with pytest.raises(IntegrityError), transaction.atomic():
            TagCode.objects.create(**of, address="X", modules=25, dark="0")
