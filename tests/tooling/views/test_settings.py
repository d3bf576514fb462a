"""Your settings: the units of a person."""

import pytest

from tests.tooling.views.works import mold
from tooling.models import Person

pytestmark = pytest.mark.django_db
ME = "/me/"


def test_a_stranger_is_asked_to_sign_in(client):
    assert client.get(ME).url == "/sign-in/?next=/me/"


@pytest.mark.parametrize("role", ["reader", "hand", "lead"])
def test_everybody_chooses_units_and_twice_is_harmless(client, request, morning, role):
    person = request.getfixturevalue(role)
    client.force_login(person, backend="shared.access.RoleBackend")
    mold("DECK", morning, length_mm="88.9", mass_kg="38.5", max_service_c=80)
    assert '<span class="nb">88.9 mm</span>' in client.get("/tools/DECK/").text
    for _twice in range(2):
        assert client.post(ME, {"units": "us"}).url == ME
    person.refresh_from_db()
    assert person.units == "us"
    text = client.get("/tools/DECK/").text
    for words in ("3 1/2 in", "≈ 85 lb", "176 °F"):
        assert f'<span class="nb">{words}</span>' in text
    assert Person.objects.exclude(pk=person.pk).filter(units="us").count() == 0


@pytest.mark.parametrize("units", ["", "imperial", "\x00", "x" * 500])
def test_bad_units_are_refused_and_change_nothing(client, hand, units):
    client.force_login(hand, backend="shared.access.RoleBackend")
    assert client.post(ME, {"units": units}).context["form"].errors["units"]
    hand.refresh_from_db()
    assert hand.units == "metric"


def test_the_page_is_found_from_every_page(client, hand):
    client.force_login(hand, backend="shared.access.RoleBackend")
    assert 'href="/me/"' in client.get("/").text
