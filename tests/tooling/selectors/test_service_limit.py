"""How hot a tool may get: the lowest of its own number and of the fillers that are in its surface."""

from datetime import timedelta
from decimal import Decimal

import pytest

from shared.units import US
from tests.tooling.views.works import NOW, ago, do, mold, open_shop
from tooling.models import Kind
from tooling.selectors.service_limit import service_limit, service_limits

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck(db):
    return mold("DECK", open_shop(), max_service_c=Decimal(70))


def limit(tool, at=NOW):
    found = service_limit(tool, at)
    return found and (found.celsius, found.source)


def test_without_a_repair_it_is_the_tools_own(deck):
    assert limit(deck) == (70, "DECK itself stands 70 °C")
    do("repair", deck, at=ago(hours=1))
    assert limit(deck) == (70, "DECK itself stands 70 °C")


def test_the_lowest_decides_and_says_where_it_comes_from(deck):
    do("repair", deck, at=ago(days=10), stands=Decimal(60))
    do("repair", deck, at=ago(days=5), stands=Decimal(65), area="spot")
    assert limit(deck) == (60, "repair of 2 May: filler stands 60 °C")
    do("repair", deck, at=ago(days=1), stands=Decimal("90"))
    assert limit(deck)[0] == 60


def test_a_tool_without_a_number_has_that_of_its_filler_alone():
    deck = mold("DECK", open_shop())
    assert service_limit(deck, NOW) is None
    do("repair", deck, at=ago(days=1), stands=Decimal(140), unit="°F")
    assert limit(deck) == (60, "repair of 11 May: filler stands 60 °C (140 °F)")
    assert str(service_limit(deck, NOW, US).said) == "140 °F"


def test_void_and_resurfaced_take_it_away_and_a_correction_stands_for_it(deck):
    one = do("repair", deck, at=ago(days=9), stands=Decimal(40))
    do("void", one, reason="another mold")
    slip = do("repair", deck, at=ago(days=8), stands=Decimal(6))
    do("correct", slip, reason="a digit", changes={"value": Decimal(60)})
    assert limit(deck)[0] == 60
    do("resurface", deck, at=ago(days=3))
    assert limit(deck)[0] == 70
    assert limit(deck, ago(days=5))[0] == 60
    do("repair", deck, at=ago(days=3), stands=Decimal(55))
    assert limit(deck)[0] == 55


@pytest.mark.parametrize(
    ("said", "celsius"),
    [({}, 50), ({"unit": "c"}, 50), ({"unit": "F"}, 10), ({"unit": "min"}, 70), ({"quantity": "pot life"}, 70)],
)
def test_what_a_sheet_brought_counts_where_it_is_such_a_temperature(deck, said, celsius):
    slip = do("repair", deck, at=ago(days=2), stands=Decimal(50))
    do("correct", slip, reason="from a sheet", changes={"unit": None, **said})
    assert service_limit(deck, NOW).celsius == celsius


def test_each_surface_has_its_own_in_as_many_queries_for_all(deck, django_assert_num_queries):
    rim = mold("RIM", deck.release_system, kind=Kind.INSERT)
    plain = mold("PLAIN", deck.release_system, kind=Kind.INSERT)
    for days in range(1, 5):
        do("repair", rim, at=ago(days=days), stands=Decimal(50 + days))
    with django_assert_num_queries(3):
        found = service_limits([deck.pk, rim.pk, plain.pk], NOW + timedelta(hours=1))
    assert {pk: one.celsius for pk, one in found.items()} == {deck.pk: 70, rim.pk: 51}


def test_the_page_of_the_tool_says_it_in_the_units_of_its_reader(client, reader, deck):
    do("repair", deck, at=ago(days=10), stands=Decimal(60))
    reader.units = US
    reader.save()
    client.force_login(reader, backend="shared.access.RoleBackend")
    page = client.get("/tools/DECK/").text
    assert "140 °F" in page
    assert "filler stands 140 °F" in page
    assert "Hottest service, as built" in page
