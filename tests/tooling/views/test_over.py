"""Whether a move would put a shelf, or the rack around it, over its limit."""

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Place
from tooling.selectors.loads import over

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture
def rack(morning):
    """A rack that may carry less than its two shelves: 40 kg lie on the one, 55 kg on the other."""
    whole = Place.objects.create(code="RACK-B", name="Rack B", max_load_kg=100)
    one = Place.objects.create(code="B-1", name="Rack B, shelf 1", parent=whole)
    two = Place.objects.create(code="B-2", name="Rack B, shelf 2", parent=whole, max_load_kg=60)
    mold("DECK", morning, place=one, mass_kg=40)
    mold("HULL", morning, place=two, mass_kg=55)
    return whole


def passed(place, *tools):
    """The place over its limit with what it carries now, then and at most, and how many have no mass."""
    found = over(Place.objects.get(code=place), tools)
    return found and (found.place.code, str(found.kg_now), str(found.kg_then), str(found.limit_kg), found.unweighed)


def test_the_shelf_is_asked_before_the_rack(rack, morning):
    small, large = mold("SMALL", morning, mass_kg=5), mold("LARGE", morning, mass_kg="5.5")
    assert passed("B-2", small) is None
    assert passed("B-2", large) == ("B-2", "55", "60.5", "60", 0)
    assert passed("B-1", large) == ("RACK-B", "95", "100.5", "100", 0)
    assert passed("B-2", small, large) == ("B-2", "55", "65.5", "60", 0)


def test_what_lies_in_the_rack_already_adds_nothing_to_it(rack, morning):
    deck = rack.children.get(code="B-1").at_home.get().tool
    assert passed("RACK-B", deck) is None
    assert passed("B-2", deck) == ("B-2", "55", "95", "60", 0)
    do("move", deck, place=Place.objects.get(code="B-2"))
    assert passed("B-2", deck) is None


def test_inserts_go_with_their_mold_and_without_a_mass_nobody_knows(rack, morning):
    tender, rim = mold("TENDER", morning, mass_kg=3), mold("RIM", morning, kind=Kind.INSERT, mass_kg=4)
    do("install", rim, at=ago(hours=1), mold=tender)
    unweighed = mold("OAR", morning)
    assert passed("B-2", unweighed) is None
    assert passed("B-2", rim) is None
    assert passed("B-2", tender, rim, unweighed) == ("B-2", "55", "62", "60", 1)


def test_a_place_without_a_limit_carries_anything(rack, morning):
    hall = Place.objects.create(code="HALL", name="Hall")
    assert over(hall, [mold("HEAVY", morning, mass_kg=900)]) is None
    assert over(rack, []) is None


def test_as_many_queries_for_thirty_tools_as_for_one(rack, morning, django_assert_num_queries):
    tools = [mold(f"M-{n}", morning, mass_kg=2) for n in range(30)]
    shelf = Place.objects.get(code="B-2")
    for some in (tools[:1], tools):
        with django_assert_num_queries(5):
            over(shelf, some)
