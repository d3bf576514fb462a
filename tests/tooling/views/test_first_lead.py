"""The one-time address of a shop that nobody leads."""

import pytest
import time_machine
from django.urls import reverse

from shared.errors import Refused
from tooling.models import Person, Role, Shop
from tooling.services import first_lead

pytestmark = pytest.mark.django_db
FILLED = {
    "shop_name": "Saltbatch Boatworks",
    "name": "Ines",
    "password1": "three dry coats",
    "password2": "three dry coats",
}


@pytest.fixture
def address():
    return reverse("first_lead", args=[first_lead.new_token()])


def test_it_makes_the_lead_and_signs_in(client, address):
    assert client.get(address).status_code == 200
    assert client.post(address, FILLED).url == "/"
    lead = Person.objects.get()
    assert (lead.name, lead.role, lead.check_password("three dry coats")) == ("Ines", Role.LEAD, True)
    assert Shop.objects.get().name == "Saltbatch Boatworks"
    assert client.session["_auth_user_id"] == str(lead.pk)


def test_it_works_once(client, address):
    client.post(address, FILLED)
    client.logout()
    assert client.get(address).status_code == 404
    assert client.post(address, FILLED | {"name": "Mara"}).status_code == 404
    assert Person.objects.count() == 1


def test_a_person_whom_an_import_named_becomes_the_lead(client, address):
    named = Person.objects.named("Ines")
    client.post(address, FILLED)
    assert Person.objects.get() == named
    assert Person.objects.get().can_lead


@pytest.mark.parametrize("token", ["lead", "lead:1:2", "x"])
def test_a_made_up_address_opens_nothing(client, token):
    assert client.get(reverse("first_lead", args=[token])).status_code == 404


def test_it_lasts_a_day(client):
    with time_machine.travel("2026-05-11T07:00:00Z", tick=False):
        address = reverse("first_lead", args=[first_lead.new_token()])
    with time_machine.travel("2026-05-12T06:59:00Z", tick=False):
        assert client.get(address).status_code == 200
    with time_machine.travel("2026-05-12T07:01:00Z", tick=False):
        assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    ("field", "value", "wrong"),
    [
        ("name", " ", "name"),
        ("name", "x" * 81, "name"),
        ("shop_name", "", "shop_name"),
        ("password1", "short", "password2"),
        ("password2", "other", "password2"),
    ],
)
def test_bad_input_makes_nobody(client, address, field, value, wrong):
    reply = client.post(address, FILLED | {field: value})
    assert reply.status_code == 200
    assert wrong in reply.context["form"].errors
    assert not Person.objects.exists()
    assert not Shop.objects.exists()


def test_of_two_at_once_the_second_is_refused(lead):
    with pytest.raises(Refused):
        first_lead.become(name="Mara", password="three dry coats", shop_name="Other")
    assert not Person.objects.filter(name="Mara").exists()
    assert not Shop.objects.exists()
