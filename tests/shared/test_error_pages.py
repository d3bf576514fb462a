"""What goes wrong still looks like this program, with one heading and words that say what to do."""

import pytest
from django.test import Client
from django.views.defaults import server_error

pytestmark = pytest.mark.django_db


def headings(reply):
    return reply.content.decode().count("<h1>")


def test_an_address_that_does_not_exist(client, hand):
    client.force_login(hand)
    reply = client.get("/no-such-page/")
    assert (reply.status_code, headings(reply)) == (404, 1)


def test_a_page_that_was_open_too_long():
    reply = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "Ines"})
    assert (reply.status_code, headings(reply)) == (403, 1)
    assert "load the page again" in reply.content.decode()


def test_what_only_a_lead_may_do(client, station, hand, reader):
    for person, words in (
        (station, "needs a lead’s own sign-in"),
        (hand, "Only a lead does this"),
        (reader, "give you the role"),
    ):
        client.force_login(person)
        reply = client.get("/recipes/WAX/change/")
        assert (reply.status_code, headings(reply)) == (403, 1)
        assert words in reply.text


def test_a_host_that_is_not_ours(client):
    reply = client.get("/sign-in/", headers={"host": "elsewhere.example"})
    assert (reply.status_code, headings(reply)) == (400, 1)


@pytest.mark.django_db(databases=[])
def test_a_fault_of_the_program_needs_no_database(rf):
    reply = server_error(rf.get("/"))
    assert (reply.status_code, headings(reply)) == (500, 1)
