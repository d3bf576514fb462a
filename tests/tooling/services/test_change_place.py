"""A change of a place keeps nobody from writing: neither by its locks, nor by the words of all that lies there."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection, connections, transaction

from tests.tooling.views.works import do, mold
from tooling.models import Place, Summary, Tool
from tooling.selectors.find import with_words
from tooling.services import places, search
from tooling.services.recheck import differences
from tooling.services.tools import rules


def elsewhere(work, longest="2s"):
    """Done on a connection of its own, which waits for a lock no longer than that."""

    def bounded():
        with connection.cursor() as cursor:
            cursor.execute("SELECT set_config('lock_timeout', %s, false)", [longest])
        try:
            work()
        finally:
            connections.close_all()

    with ThreadPoolExecutor(1) as pool:
        pool.submit(bounded).result(20)


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_a_deed_and_a_change_of_its_place_do_not_wait_for_each_other(monkeypatch):
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    tool = mold("DECK", None, pulls=None)
    monkeypatch.setattr(search, "keep_places", lambda keys: None)
    with transaction.atomic():
        do("move", tool, place=rack)
        elsewhere(lambda: places.change_place(rack, {"name": "Rack by the door"}))
    with transaction.atomic():
        places.change_place(rack, {"name": "Rack C"})
        elsewhere(lambda: do("move", tool, place=rack))
    assert Place.objects.get().name == "Rack C"


@pytest.mark.django_db
def test_the_words_of_a_room_follow_in_pieces_of_their_own(monkeypatch):
    room = Place.objects.create(code="HALL", name="Hall")
    rack = Place.objects.create(code="RACK-B", name="Rack B", parent=room)
    for number in range(3):
        mold(f"DECK-{number}", None, pulls=None, place=rack)
    stored: list[int] = []
    store = search._store
    monkeypatch.setattr(search, "_AT_ONCE", 2)
    monkeypatch.setattr(search, "_store", lambda rows: (stored.append(len(rows)), store(rows)))
    places.change_place(room, {"name": "Loft"})
    assert stored == [2, 1]
    assert with_words(Tool.objects.all(), ["loft"]).count() == Summary.objects.count() == 3
    places.change_place(rack, {"max_load_kg": None})
    assert stored == [2, 1]
    assert not list(differences(rules()))


@pytest.mark.django_db
def test_a_place_at_which_nothing_ever_was_is_taken_down(client, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    shelf = Place.objects.create(code="B-1", name="Shelf 1", parent=rack)
    slip = Place.objects.create(code="SHELF", name="shelf !!")
    tool, home = mold("DECK", None, pulls=None), Place.objects.create(code="HOME", name="Home")
    mold("HULL", None, pulls=None, place=home)
    moved = do("move", tool, place=shelf)
    do("void", moved, reason="a slip")
    for place, why in ((rack, "is not empty"), (shelf, "tools were there once"), (home, "is the home of a tool")):
        reply = client.post(f"/racks/{place.code}/change/", {"do": "take-down"}, follow=True)
        assert why in reply.text
    assert client.post(f"/racks/{slip.code}/change/", {"do": "take-down"}).url == "/racks/"
    assert set(Place.objects.values_list("code", flat=True)) == {"RACK-B", "B-1", "HOME"}
