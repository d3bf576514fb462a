"""What places carry: what lies on them, mold inserts in it, and all that lies on the places within them."""

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Place
from tooling.selectors.places import page
from tooling.selectors.rack import shelves

pytestmark = [pytest.mark.django_db, pytest.mark.both]


@pytest.fixture
def rack(morning, client, reader):
    """A rack that may carry less than its two shelves."""
    client.force_login(reader, backend="shared.access.RoleBackend")
    whole = Place.objects.create(code="RACK-B", name="Rack B", max_load_kg=100)
    Place.objects.create(code="B-1", name="Rack B, shelf 1", parent=whole)
    Place.objects.create(code="B-2", name="Rack B, shelf 2", parent=whole, max_load_kg=60)
    return whole


@pytest.fixture
def laden(rack, morning):
    one, two = Place.objects.get(code="B-1"), Place.objects.get(code="B-2")
    mold("DECK", morning, place=one, mass_kg=40)
    hull = mold("HULL", morning, place=two, mass_kg=55)
    rim = mold("RIM", morning, kind=Kind.INSERT, place=two, mass_kg=20)
    do("install", rim, at=ago(hours=1), mold=hull)
    mold("RUDDER", morning, place=one)


def loads():
    return {one.place.code: (one.load, one.overloaded) for one in shelves()}


def test_a_mold_weighs_with_its_inserts_and_a_rack_with_its_shelves(laden):
    carried = loads()
    assert {code: (str(load.kg), over) for code, (load, over) in carried.items()} == {
        "RACK-B": ("115", True), "B-1": ("40", False), "B-2": ("75", True),
    }  # fmt: skip
    assert carried["RACK-B"][0].unweighed == carried["B-1"][0].unweighed == 1
    assert page("rack-b").shelf.load == carried["RACK-B"][0]


def test_the_sum_is_shown_with_its_working(client, laden):
    said = {address: " ".join(client.get(address).text.split()) for address in ("/racks/", "/racks/B-2/")}
    shelf = (
        '1 tool, <span class="nb">75 kg</span> of at most <span class="nb">60 kg</span> '
        '(<span class="nb">20 kg</span> of it mold inserts in them): <b>too much</b>. '
        "The plate on the rack has the last word."
    )
    assert shelf in said["/racks/B-2/"]
    assert shelf in said["/racks/"]
    assert (
        '<span class="nb">115 kg</span> of at most <span class="nb">100 kg</span> on the places in it: '
        "<b>too much</b>. "
        "1 tool without a mass is not counted."
    ) in said["/racks/"]


def test_what_is_retired_or_carried_away_weighs_nothing_here(laden):
    tools = {one.tool.code: one.tool for shelf in shelves() for one in shelf.here}
    do("move", tools["HULL"], place=None)
    do("retire", tools["DECK"])
    assert str(loads()["RACK-B"][0].kg) == "0"
