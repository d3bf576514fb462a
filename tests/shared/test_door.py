"""Signing in and out."""

import pytest
from axes.models import AccessAttempt
from django.contrib.sessions.models import Session
from django.db import OperationalError
from django.urls import reverse

from shared.views import health

SIGN_IN = "/sign-in/"
PASSWORD = "long enough for a test"

pytestmark = pytest.mark.django_db


def try_in(client, name, password, **more):
    return client.post(SIGN_IN, {"username": name, "password": password}, **more)


def test_a_stranger_is_asked_who_it_is_and_then_goes_on(client, hand):
    reply = client.post(f"{SIGN_IN}?next=/t/DECK-2A/", {"username": hand.name, "password": PASSWORD})
    assert (reply.status_code, reply.url) == (302, "/t/DECK-2A/")


def test_nobody_is_sent_to_another_site(client, hand):
    reply = client.post(f"{SIGN_IN}?next=https://elsewhere.example/", {"username": hand.name, "password": PASSWORD})
    assert reply.url == "/"


@pytest.mark.parametrize("name", ["TEST HAND", " test  hand "])
def test_case_and_spaces_of_a_name_do_not_matter(client, hand, name):
    assert try_in(client, name, PASSWORD).status_code == 302


@pytest.mark.parametrize(
    ("name", "password"), [("Test hand", "wrong"), ("Nobody", PASSWORD), ("", ""), ("x" * 99, "x")]
)
def test_what_does_not_fit_is_said_and_the_name_stays(client, hand, name, password):
    reply = try_in(client, name, password)
    assert reply.status_code == 200
    assert reply.context["form"].errors
    assert reply.context["form"]["username"].value() == name


def test_a_person_without_a_role_has_no_way_in(client, django_user_model):
    django_user_model.objects.create_person("Only named", "", PASSWORD)
    assert try_in(client, "Only named", PASSWORD).status_code == 200


def test_losing_the_role_ends_the_session(client, hand):
    client.force_login(hand)
    hand.role = ""
    hand.save()
    assert client.get(SIGN_IN).status_code == 200


def test_guessing_locks_the_name_at_that_address_only(client, hand, lead):
    for number in range(10):
        reply = try_in(client, ("Test hand", "TEST  HAND")[number % 2], "wrong")
    assert reply.status_code == 429
    assert "shared/locked.html" in [template.name for template in reply.templates]
    assert try_in(client, hand.name, PASSWORD).status_code == 429
    assert try_in(client, lead.name, PASSWORD).status_code == 302
    assert try_in(client, hand.name, PASSWORD, REMOTE_ADDR="192.0.2.7").status_code == 302


def test_behind_a_web_server_the_name_is_locked_at_the_far_address_only(client, hand):
    guesser, home = ({"HTTP_X_FORWARDED_FOR": f"203.0.113.{number}, 198.51.100.{number}"} for number in (4, 5))
    for _ in range(10):
        reply = try_in(client, hand.name, "wrong", **guesser)
    assert reply.status_code == 429
    moved_on = {"HTTP_X_FORWARDED_FOR": "192.0.2.77, 198.51.100.4"}
    assert try_in(client, hand.name, PASSWORD, **moved_on).status_code == 429
    assert try_in(client, hand.name, PASSWORD, **home).status_code == 302


def test_getting_in_forgives_the_slips_before(client, hand):
    for _ in range(3):
        for _ in range(9):
            try_in(client, hand.name, "wrong")
        assert try_in(client, hand.name, PASSWORD).status_code == 302
        client.post("/sign-out/")


def test_what_was_typed_as_a_password_is_kept_nowhere(client, hand):
    try_in(client, hand.name, "a slip of the tongue")
    assert "slip" not in str(AccessAttempt.objects.values())


def test_signing_out_is_a_deed(client, hand):
    client.force_login(hand)
    assert client.get("/sign-out/").status_code == 405
    assert client.post("/sign-out/").url == SIGN_IN
    assert client.get(SIGN_IN).status_code == 200


def test_looking_around_writes_no_session(client, hand):
    client.force_login(hand)
    before = Session.objects.get().expire_date
    client.get(SIGN_IN)
    assert Session.objects.get().expire_date == before


def test_the_server_says_ok_to_anybody(client):
    reply = client.get(reverse("healthz"))
    assert (reply.status_code, reply.content) == (200, b"ok")
    assert "sessionid" not in reply.cookies


def test_the_server_says_so_when_the_database_does_not_answer(client, monkeypatch):
    def fail():
        raise OperationalError

    monkeypatch.setattr(health.connection, "cursor", fail)
    assert client.get("/healthz").status_code == 503


def test_nothing_inline_is_run(client):
    policy = client.get(SIGN_IN)["Content-Security-Policy"]
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy


def test_cautions_that_were_folded_are_open_after_signing_in_and_out(client, hand):
    for change in (lambda: try_in(client, hand.name, PASSWORD), lambda: client.post("/sign-out/")):
        client.cookies["folded_cautions"] = f"{hand.pk}.pull"
        assert change().status_code == 302
        assert client.cookies["folded_cautions"].value == ""
