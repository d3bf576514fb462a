"""The one-time address of a shop that nobody leads."""

import pytest
import time_machine
from django.urls import reverse

from shared import clock
from shared.errors import Refused
from tooling.models import Person, Role, Shop
from tooling.services import first_lead, people
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
FILLED = {
    "shop_name": "Saltbatch Boatworks",
    "name": "Ines",
    "time_zone": "Europe/Oslo",
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
    assert (Shop.objects.get().name, Shop.objects.get().time_zone) == ("Saltbatch Boatworks", "Europe/Oslo")
    assert client.session["_auth_user_id"] == str(lead.pk)


def test_it_works_once(client, address):
    client.post(address, FILLED)
    client.logout()
    for reply in (client.get(address), client.post(address, FILLED | {"name": "Mara"})):
        assert reply.status_code == 410
        assert "This shop has its lead already." in reply.text
    assert Person.objects.count() == 1


def test_a_shop_with_tools_keeps_the_zone_that_they_were_worked_out_by(client, address):
    add_tool(code="M-1", kind="mold", name="A mold")
    Shop.objects.create(name="", time_zone="Europe/Lisbon")
    assert "time_zone" not in client.get(address).context["form"].fields
    client.post(address, FILLED)
    assert Shop.objects.get().time_zone == "Europe/Lisbon"


def test_a_person_whom_an_import_named_becomes_the_lead(client, address):
    named = Person.objects.named("Ines")
    client.post(address, FILLED)
    assert Person.objects.get() == named
    assert Person.objects.get().can_lead


def test_a_station_or_who_has_left_does_not_become_the_lead(client, address):
    people.add_person(name="Ines", role=Role.STATION)
    people.switch_off(people.add_person(name="Mara"), at=clock.now())
    for name, why in (("ines", "Ines is a station."), ("Mara", "Mara is switched off.")):
        reply = client.post(address, FILLED | {"name": name})
        assert why in str(reply.context["form"].errors["name"])
        assert reply.context["form"]["shop_name"].value() == "Saltbatch Boatworks"
    assert not Person.objects.filter(role=Role.LEAD).exists()
    assert not Shop.objects.exists()


@pytest.mark.parametrize("token", ["lead", "lead:1:2", "x"])
def test_a_made_up_address_opens_nothing(client, token):
    assert client.get(reverse("first_lead", args=[token])).status_code == 404


def test_it_lasts_a_day(client):
    with time_machine.travel("2026-05-11T07:00:00Z", tick=False):
        address = reverse("first_lead", args=[first_lead.new_token()])
    with time_machine.travel("2026-05-12T06:59:00Z", tick=False):
        assert client.get(address).status_code == 200
    with time_machine.travel("2026-05-12T07:01:00Z", tick=False):
        reply = client.get(address)
        assert (reply.status_code, "it prints a new one" in reply.text) == (410, True)


@pytest.mark.parametrize(
    ("field", "value", "wrong"),
    [
        ("name", " ", "name"),
        ("name", "x" * 81, "name"),
        ("shop_name", "", "shop_name"),
        ("time_zone", "Mars/Base", "time_zone"),
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
        first_lead.become(name="Mara", password="three dry coats", shop_name="Other", at=clock.now())
    assert not Person.objects.filter(name="Mara").exists()
    assert not Shop.objects.exists()
