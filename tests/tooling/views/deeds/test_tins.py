"""A tin is opened where somebody is signed in."""

from datetime import timedelta
from uuid import uuid4

import pytest

from shared.clock import now
from tests.tooling.views.deeds.conftest import errors
from tooling.models import RecipeVersion, Tin

pytestmark = pytest.mark.django_db
PAGE = "/recipes/WAX/tin/?stuff=coat&tool=DECK-2A"


def send(client, page=PAGE, **typed):
    return client.post(page, {"token": str(uuid4()), "stuff": "coat", **typed})


def test_it_is_one_lot_and_back_to_the_coats(client, hand, shop):
    client.force_login(hand)
    assert send(client, lot="14").url == "/tools/DECK-2A/coat/"
    assert (Tin.objects.get().holder, Tin.objects.get().opened_by) == (hand, hand)
    two = send(client, PAGE + "&tool=HATCH7", lot="15")
    assert two.url == "/coats/together/?tool=DECK-2A&tool=HATCH7"
    assert send(client, "/recipes/wax/tin/", put_away="coat").url == "/coats/"
    assert not Tin.objects.open().exists()


def test_a_station_is_asked_whose_hands(client, station, hand, shop):
    client.force_login(station)
    assert "by" in errors(send(client, lot="14"))
    send(client, lot="14", by=str(hand.pk))
    assert (Tin.objects.get().holder, Tin.objects.get().opened_by) == (station, hand)
    assert "open at this station" in client.get("/tools/DECK-2A/coat/").text


def test_a_date_that_is_past_only_warns(client, hand, shop):
    client.force_login(hand)
    send(client, lot="14", expires_on=str((now() - timedelta(days=2)).date()))
    assert "Past its date" in client.get("/tools/DECK-2A/coat/").text


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"lot": " "}, "lot"), ({"lot": "x" * 201}, "lot"), ({"lot": "1", "expires_on": "soon"}, "expires_on"),
     ({"lot": "1", "stuff": "film"}, "stuff"), ({"lot": "1", "stuff": ""}, "stuff"), ({"lot": "a\x00"}, "lot")],
)  # fmt: skip
def test_nonsense_is_said_at_its_field(client, hand, shop, typed, field):
    client.force_login(hand)
    assert field in errors(send(client, **typed))
    assert not Tin.objects.exists()


def test_an_unknown_recipe_is_not_found(client, hand, shop):
    client.force_login(hand)
    RecipeVersion.objects.update(sealer_coats=1, film_first_pulls=2)
    assert client.get("/recipes/WAX/tin/").text.count('type="radio"') == 3
    assert [client.get(f"/recipes/{code}/tin/").status_code for code in ("NONE", "SEMI", "a%00b")] == [404] * 3
