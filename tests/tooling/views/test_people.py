"""People on screen: added, invited, another role, off and on, and the link from the other side."""

import re

import pytest
from django.test import Client

from tooling.models import Entry, Invitation, Person
from tooling.services import deeds, pins
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db
PEOPLE, NEW = "/people/", "/people/new/"
PASSWORD = {"password1": "three dry coats", "password2": "three dry coats"}
LINK = re.compile(r"<textarea id=\"link\"[^>]*>http://127.0.0.1:8000(/join/[^<]+/)</textarea>")


def signed_in(person):
    client = Client()
    client.force_login(person, backend="shared.access.RoleBackend")
    return client


@pytest.fixture
def desk(lead):
    """The lead at the desk."""
    return signed_in(lead)


def page_of(person):
    return f"{PEOPLE}{person.pk}/"


def link_for(desk, person):
    return LINK.search(desk.post(page_of(person), {"do": "invite"}).text).group(1)


def test_somebody_is_added_invited_and_comes_in_once(desk, client):
    reply = desk.post(NEW, {"name": "Mara  Quist", "role": "hand"})
    address = LINK.search(reply.text).group(1)
    assert "This address" not in client.get(address).text
    assert "Welcome, Mara Quist" in client.get(address).text
    assert client.post(address, PASSWORD).url == "/"
    mara = Person.objects.get(name="Mara Quist")
    assert client.session["_auth_user_id"] == str(mara.pk)
    again = Client().get(address)
    assert again.status_code == 410
    assert "This link was used already" in again.text
    assert "sign in with your name and your password" in again.text
    assert Client().post(address, PASSWORD | {"password1": "other"}).status_code == 410


def test_a_bad_password_uses_nothing_up(desk, client):
    address = LINK.search(desk.post(NEW, {"name": "Mara", "role": "reader"}).text).group(1)
    for wrong in ({"password1": "short", "password2": "short"}, {**PASSWORD, "password2": "other"}, {}):
        assert client.post(address, wrong).context["form"].errors
    assert not Person.objects.get(name="Mara").has_usable_password()
    assert client.post(address, PASSWORD).url == "/"


def test_a_name_alone_has_no_way_in(desk):
    assert desk.post(NEW, {"name": "Kim", "role": ""}).url == PEOPLE
    assert "none: only a name in histories" in desk.get(PEOPLE).text
    assert not Invitation.objects.exists()


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ({"name": "", "role": "hand"}, "name"),
        ({"name": "TEST LEAD", "role": "hand"}, "name"),
        ({"name": "x" * 81, "role": "hand"}, "name"),
        ({"name": "\x00", "role": "hand"}, "name"),
        ({"name": "Kim", "role": "boss"}, "role"),
    ],
)
def test_bad_input_adds_nobody_and_keeps_what_was_typed(desk, typed, wrong):
    reply = desk.post(NEW, typed)
    assert wrong in reply.context["form"].errors
    assert reply.context["form"]["name"].value() == typed["name"]
    assert Person.objects.count() == 1


def test_the_link_of_a_station_signs_the_tablet_in(desk, client):
    address = LINK.search(desk.post(NEW, {"name": "Wall", "role": "station"}).text).group(1)
    assert "The link waits at its tablet" in desk.get(PEOPLE).text
    assert "Sign this tablet in" in client.get(address).text
    assert client.post(address).url == "/wall/"
    assert client.get("/").status_code == 200
    assert "Signed in at its tablet." in desk.get(PEOPLE).text
    wall = Person.objects.get(name="Wall")
    other = Client()
    other.post(link_for(desk, wall))
    assert other.get("/").status_code == 200
    assert client.get("/").status_code == 302, "the tablet before is one no more"


def test_a_link_is_taken_back(desk, hand):
    address = link_for(desk, hand)
    assert desk.post(page_of(hand), {"do": "withdraw"}).url == page_of(hand)
    reply = Client().get(address)
    assert (reply.status_code, "taken back" in reply.text) == (410, True)
    assert "Ask the shop lead for a new one." in reply.text
    assert Client().get("/join/made-up/").status_code == 404


def test_a_forgotten_password_gets_a_new_link_and_old_sessions_end(desk, hand):
    phone, address = signed_in(hand), link_for(desk, hand)
    assert phone.get("/").status_code == 200
    Client().post(address, PASSWORD)
    assert phone.get("/").status_code == 302


def test_somebody_leaves_at_once_and_stays_in_the_histories(desk, hand):
    tool = add_tool(code="DECK", kind="mold", name="Deck")
    deeds.hold(tool, by=hand, recorded_by=hand, reason="chip")
    phone = signed_in(hand)
    desk.post(page_of(hand), {"do": "off"})
    assert phone.get("/").status_code == 302
    assert "Test hand" in desk.get("/tools/DECK/").text
    assert f'value="{hand.pk}"' not in desk.get("/tools/DECK/hold/").text
    assert Entry.objects.get().by == hand
    assert "Switched off." in desk.get(PEOPLE).text
    desk.post(page_of(hand), {"do": "on"})
    assert phone.get("/").status_code == 302, "an old session stays ended"
    assert "No way in yet: make a link." in desk.get(page_of(hand)).text


def test_another_role_holds_at_once_but_the_last_lead_stays(desk, lead, hand):
    desk.post(page_of(hand), {"do": "role", "role": "reader"})
    assert signed_in(hand).get("/tools/NONE/hold/").status_code == 403
    for typed in ({"do": "role", "role": "hand"}, {"do": "off"}):
        assert "is the only lead." in desk.post(page_of(lead), typed).text
    lead.refresh_from_db()
    assert (lead.role, lead.is_active) == ("lead", True)


def test_a_pin_is_set_by_oneself_or_by_the_lead(desk, hand, lead):
    phone = signed_in(hand)
    reply = phone.post("/me/", {"do": "pin", "pin": "1234", "again": "1234"})
    assert "tried first" in reply.context["pin"].errors["pin"][0]
    assert phone.post("/me/", {"do": "pin", "pin": "2580", "again": "2581"}).context["pin"].errors["again"]
    assert not pins.has_pin(hand)
    assert phone.post("/me/", {"do": "pin", "pin": "2580", "again": "2580"}).url == "/me/"
    assert desk.post(page_of(hand), {"do": "pin", "pin": "7392", "again": "7392"}).url == page_of(hand)
    assert "Has a PIN." in desk.get(PEOPLE).text
    assert "7392" not in desk.get(page_of(hand)).text
    phone.post("/me/", {"do": "no-pin"})
    assert not pins.has_pin(hand)


@pytest.mark.parametrize("role", ["reader", "station"])
def test_who_logs_nothing_or_is_shared_has_no_pin(request, role):
    person = request.getfixturevalue(role)
    client = signed_in(person)
    assert "PIN" not in client.get("/me/").text
    client.post("/me/", {"do": "pin", "pin": "2580", "again": "2580"})
    assert not pins.has_pin(person)


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_only_a_lead_sees_people(request, role):
    client = signed_in(request.getfixturevalue(role))
    assert 'href="/people/"' not in client.get("/").text
    assert client.get(PEOPLE).status_code == 403
    assert client.post(NEW, {"name": "Kim", "role": "lead"}).status_code == 403


def test_nonsense_does_nothing(desk, hand):
    assert desk.post(page_of(hand), {"do": "fire"}).status_code == 200
    assert desk.get(f"{PEOPLE}999999/").status_code == 404
    hand.refresh_from_db()
    assert (hand.role, hand.is_active) == ("hand", True)


def test_as_many_queries_for_thirty_as_for_three(desk, django_assert_num_queries):
    Person.objects.bulk_create(Person(name=f"N {n}", name_key=f"n {n}", password="!") for n in range(30))
    with django_assert_num_queries(6):
        desk.get(PEOPLE)
