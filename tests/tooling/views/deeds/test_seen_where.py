"""Where it came off hard, and numbers that do not fit the count."""

import pytest

from tooling.models import Entry

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def standing():
    return Entry.objects.filter(kind="pull").standing().latest("pk")


def test_where_on_it_goes_into_the_words_once(client, send):
    address = send("pulled", came_off="tight").url
    page = client.get(address).text
    assert page.index('name="spots"') < page.rindex("Write it down")
    assert page.count("Write it down") == 2
    send("seen", number=standing().number, spots=["face", "flange"], note="by the bow")
    assert standing().payload["note"] == "face, flange: by the bow"
    send("seen", number=standing().number, spots=["face"], note="face, flange: by the bow")
    assert standing().payload["note"] == "face, flange: by the bow"


def test_numbers_that_do_not_fit_the_count_are_asked_once(send):
    said = {"came_off": "free", "count": "3", "serial": "0009, 0010"}
    page = send("pulled", **said)
    assert "Three came off, with two serial numbers." in str(page.context["form"].errors["serial"])
    assert not Entry.objects.filter(kind="pull").exists()
    assert send("pulled", **said, sure=[one.key for one in page.context["form"].asked]).status_code == 302


@pytest.mark.parametrize(("count", "serial"), [("1", "0009, 0010"), ("2", "0009, 0010"), ("3", "")])
def test_numbers_that_fit_are_not_asked(send, count, serial):
    assert send("pulled", came_off="free", count=count, serial=serial).status_code == 302
