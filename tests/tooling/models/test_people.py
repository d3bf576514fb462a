"""Names, roles and signing in."""

import pytest
from django.contrib.auth import authenticate
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.test import RequestFactory

from tooling.models import Person, Role

pytestmark = pytest.mark.django_db
PASSWORD = "seven coats of wax"


@pytest.mark.parametrize("typed", ["Åsa Berg", "ÅSA BERG", " åsa   berg ", "A\u030asa Berg"])
def test_signing_in_is_without_regard_to_case_and_spaces(typed, settings):
    person = Person.objects.create_person("Åsa  Berg", Role.HAND, PASSWORD)
    assert person.name == "Åsa Berg"
    request = RequestFactory().post("/")
    assert authenticate(request, username=typed, password=PASSWORD) == person
    assert authenticate(request, username=typed, password="wrong") is None


def test_two_spellings_are_one_person():
    Person.objects.create_person("Kim", Role.HAND, PASSWORD)
    with pytest.raises(ValidationError):
        Person.objects.create_person("KIM")
    with pytest.raises(IntegrityError), transaction.atomic():
        Person(name="kim").save()


def test_a_person_who_is_only_named_cannot_sign_in():
    person = Person.objects.create_person("Kim", password=PASSWORD)
    assert not person.can_sign_in
    assert authenticate(RequestFactory().post("/"), username="Kim", password=PASSWORD) is None


def test_a_name_finds_its_person_or_makes_one_without_sign_in():
    kim = Person.objects.create_person("Kim", Role.LEAD, PASSWORD)
    assert Person.objects.named(" KIM ") == kim
    new = Person.objects.named("Lou  Ray")
    assert (new.name, new.role, new.can_sign_in) == ("Lou Ray", "", False)
    assert Person.objects.named("lou ray") == new


@pytest.mark.parametrize("name", ["", "  ", "x" * 81])
def test_a_name_that_cannot_be(name):
    with pytest.raises(ValidationError):
        Person.objects.create_person(name)
    with pytest.raises(ValidationError):
        Person.objects.named(name)


def test_an_unknown_role_is_refused():
    with pytest.raises(ValidationError):
        Person.objects.create_person("Kim", "chief", PASSWORD)
    with pytest.raises(IntegrityError), transaction.atomic():
        Person(name="Kim", role="chief").save()


@pytest.mark.parametrize(
    ("role", "logs", "leads", "shared"),
    [
        ("", False, False, False),
        ("reader", False, False, False),
        ("hand", True, False, False),
        ("lead", True, True, False),
        ("station", True, False, True),
    ],
)
def test_what_a_role_may(role, logs, leads, shared):
    person = Person(name="Kim", role=role)
    assert (person.can_log, person.can_lead, person.is_station) == (logs, leads, shared)


def test_djangos_own_command_makes_a_lead():
    assert Person.objects.create_superuser("Kim", PASSWORD).role == Role.LEAD
