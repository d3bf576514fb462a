"""Signed out while sending: what was typed is there again after signing in, and nothing is written by itself."""

from uuid import uuid4

import pytest
from django.test import Client

from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/pulled/"


@pytest.fixture(autouse=True)
def here(shop):
    happened.lay_up(shop.mold, part="SK520-DECK", serial="0173")


def signed_in(client, person, door):
    entered = client.post(door.url, {"username": person.name, "password": "long enough for a test"})
    return client.get(entered.url)


def typed(**more):
    return {"token": str(uuid4()), "at": "now", "came_off": "tight", "serial": "0173", "note": "by the bow", **more}


def test_it_is_shown_again_and_written_when_it_is_sent_again(client, hand):
    sent, before = typed(csrfmiddlewaretoken="secret"), Entry.objects.count()
    door = client.post(PAGE, sent)
    assert door.url == f"/sign-in/?next={PAGE}"
    assert "What you sent is kept" in client.get(door.url).text
    page = signed_in(client, hand, door)
    assert "Look it over and send it." in page.text
    assert "Not written yet:" in page.text
    assert "by the bow" in page.text
    assert 'value="tight" aria-pressed="true"' in page.text
    assert Entry.objects.count() == before
    assert "secret" not in str(dict(client.session))
    assert "Look it over and send it." not in client.get(PAGE).text
    form = page.context["form"]
    again = {name: form[name].value() for name in ("token", "at", "serial", "note")}
    assert client.post(PAGE, {**again, "came_off": "tight"}).status_code == 302
    assert Entry.objects.filter(kind="pull").count() == 1


@pytest.mark.parametrize("name", ["lay-up", "coat", "film", "strip", "hold", "looked-at", "pulled"])
def test_every_deed_keeps_it_and_writes_nothing(client, station, name):
    before = Entry.objects.count()
    address = f"/tools/DECK-2A/{name}/"
    page = signed_in(client, station, client.post(address, typed(what="coat", passed="yes", words="chip")))
    assert page.status_code == 200
    assert "Look it over and send it." in page.text
    assert Entry.objects.count() == before


def test_another_page_does_not_show_it(client, hand):
    client.post(PAGE, typed())
    client.force_login(hand)
    assert "by the bow" not in client.get("/tools/DECK-2A/coat/").text


def test_what_is_no_deed_or_too_long_is_not_kept(client, hand):
    client.post("/recipes/WAX/change/", typed())
    client.post(PAGE, typed(note="x" * 30_000))
    assert "typed" not in client.session
    assert signed_in(client, hand, client.post(PAGE, typed(note="\x00💥"))).status_code == 200


def test_another_site_leaves_nothing_behind():
    strict = Client(enforce_csrf_checks=True)
    assert strict.post(PAGE, typed()).status_code == 403
    assert "typed" not in strict.session
