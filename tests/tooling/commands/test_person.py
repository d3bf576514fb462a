"""Giving people a way in from the command line."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tooling.models import Person

pytestmark = pytest.mark.django_db


def person(*words):
    said = StringIO()
    call_command("person", *words, stdout=said)
    return said.getvalue()


def test_a_new_person_gets_a_role_and_a_password_that_works():
    said = person("Mara  Quist", "--role", "hand")
    made = Person.objects.get(name="Mara Quist")
    assert made.role == "hand"
    assert made.check_password(said.split()[-1])


def test_a_known_person_gets_a_new_one_and_open_sessions_end(client, hand, lead):
    client.force_login(hand)
    person("TEST HAND", "--role", "reader")
    hand.refresh_from_db()
    assert hand.role == "reader"
    assert Person.objects.count() == 2
    assert client.get("/sign-in/").status_code == 200


def test_a_way_in_is_taken_away(hand):
    assert "no way in" in person(hand.name, "--role", "none")
    hand.refresh_from_db()
    assert not hand.can_sign_in


@pytest.mark.parametrize("words", [("", "--role", "hand"), ("x" * 81, "--role", "hand"), ("Mara", "--role", "boss")])
def test_bad_input_makes_nobody(words):
    with pytest.raises(CommandError):
        person(*words)
    assert not Person.objects.exists()


def test_the_last_lead_stays(lead):
    with pytest.raises(CommandError, match="only lead"):
        person(lead.name, "--role", "hand")
    lead.refresh_from_db()
    assert lead.role == "lead"
