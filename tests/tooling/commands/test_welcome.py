"""What is said, and written, when a shop is opened."""

from io import StringIO

import pytest
from django.core.management import call_command

from tooling.models import Person, Shop
from tooling.services import demo_logins, pins

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def data_dir(settings, tmp_path):
    settings.DATA_DIR = tmp_path
    return tmp_path


def welcome(*words):
    said = StringIO()
    call_command("welcome", *words, stdout=said)
    return said.getvalue()


def test_an_empty_shop_stays_empty_and_says_where_to_begin():
    said = welcome("--no-demo")
    assert "/first/lead:" in said
    assert "time zone" in said
    assert not Shop.objects.exists()


def test_a_shop_with_a_lead_is_left_alone(lead):
    before = list(Person.objects.values())
    assert welcome("--open-to-house") == ""
    assert list(Person.objects.values()) == before


def test_the_demo_logins_are_printed_while_they_work():
    demo_logins.create()
    assert demo_logins.PASSWORD in welcome()
    person = Person.objects.get(name="Ines")
    person.set_password("an own one")
    person.save()
    assert [login.name for login in demo_logins.working()] == ["Jonas", "Wall tablet", "Bookkeeper"]


def test_opening_the_house_renews_known_passwords_and_remembers_them(data_dir):
    demo_logins.create()
    own = Person.objects.get(name="Ines")
    own.set_password("an own one")
    own.save()
    said = welcome("--open-to-house")
    assert demo_logins.PASSWORD not in said
    assert "Jonas" in said
    assert not any(person.check_password(demo_logins.PASSWORD) for person in Person.objects.all())
    assert Person.objects.get(name="Ines").check_password("an own one")
    assert (data_dir / "demo_logins.json").stat().st_mode & 0o777 == 0o600
    assert welcome("--open-to-house") == welcome() == said


def test_a_site_that_others_reach_renews_them_as_well(settings):
    demo_logins.create()
    settings.SITE_URL = "https://shop.example"
    said = welcome()
    assert "Ines" in said
    assert demo_logins.PASSWORD not in said
    assert not any(person.check_password(demo_logins.PASSWORD) for person in Person.objects.all())


def test_the_pins_of_the_demo_are_printed_and_made_anew_with_the_passwords(data_dir):
    people = [*demo_logins.create(), Person.objects.named("Mara")]
    demo_logins.give_pins(people)
    assert "PINs at the tablet: Ines 7294, Jonas 7294, Mara 7294" in welcome()
    pins.set_pin(people[0], pin="8205")
    said = welcome("--open-to-house")
    assert demo_logins.PIN not in said
    assert [name for name, _pin in demo_logins.working_pins()] == ["Jonas", "Mara"]
    assert (data_dir / "demo_pins.json").stat().st_mode & 0o777 == 0o600
    assert welcome("--open-to-house") == welcome() == said
