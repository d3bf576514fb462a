"""The stepper of coats: what goes on next, its clock, what was wiped, and the tin that is open."""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tooling.models import Entry, RecipeVersion, Wipe
from tooling.services.tins import open_tin

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/coat/"
FILM = {"film_every_pull": True, "film_dry_minutes": 30, "wipe_minutes": 15}


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)
    happened.remove(shop.insert)


def test_sealer_coats_cure_film_in_their_order(client, send, shop):
    RecipeVersion.objects.update(sealer_coats=1, coats_again=2, cure_hours_preparation=4, **FILM)
    happened.strip(shop.mold)
    steps, begun = [], now()
    for hours in (0, 1, 2, 3, 8):
        with time_machine.travel(begun + timedelta(hours=hours), tick=False):
            plan = client.get(PAGE).context["plan"]
            steps.append((plan.step, plan.not_before is not None))
            if plan.not_before is None:
                send("coat", what=plan.step)
    assert steps == [("sealer", False), ("coat", False), ("coat", False), ("film", True), ("film", False)]
    kinds = Entry.objects.filter(tool=shop.mold).order_by("-id").values_list("kind", flat=True)[:4]
    assert list(kinds) == ["film", "coat", "coat", "sealer"]


def test_a_film_has_a_clock_of_its_own(client, send, shop):
    RecipeVersion.objects.update(**FILM)
    at = (now() + timedelta(days=1)).replace(hour=9, minute=20, second=0)
    with time_machine.travel(at, tick=False):
        assert send("film").url == PAGE
        page = client.get(PAGE).text
        assert "Film: not before " in page
        assert "<b>Film</b>: not before then, check it is dry." in page
        assert "It spoils the film that is on." in page
    with time_machine.travel(at + timedelta(minutes=31), tick=False):
        assert "Film: time is up, check it is dry" in client.get(PAGE).text


def test_out_of_order_is_said_before(client, shop):
    RecipeVersion.objects.update(sealer_coats=1, **FILM)
    happened.strip(shop.mold)
    page = client.get(PAGE).text
    assert "A coat before it is written, and then it has to be stripped." in page
    assert "One before it is written and flagged; the next coat spoils it." in page


def test_too_late_is_said_before(client, shop):
    RecipeVersion.objects.update(coats_again=2, longest_gap_hours=2)
    happened.strip(shop.mold)
    happened.log_coat(shop.mold)
    assert "Its recipe allows the next coat until" in client.get(PAGE).text
    with time_machine.travel(now() + timedelta(hours=3)):
        assert "More time has passed since the last coat" in client.get(PAGE).text


def wipe(client, token=None, **named):
    return client.post(f"{PAGE}wiped/", {"token": str(token or uuid4()), **named})


def test_wiped_quiets_the_clock_and_stands_in_the_stack(client, send, shop):
    RecipeVersion.objects.update(wipe_minutes=15, coats_again=2)
    happened.strip(shop.mold)
    send("coat", what="coat")
    number = Entry.objects.filter(tool=shop.mold).last().number
    assert f'name="coat" value="{number}">Wiped (stops the clock)' in client.get(PAGE).text
    wipe(client, coat=number)
    page = client.get(PAGE).text
    assert "Coat 1 wiped" in page
    assert "data-since" not in page
    assert "</b> on, wiped " in page
    wipe(client, back=number)
    assert "Wiped (stops the clock)" in client.get(PAGE).text


@pytest.mark.parametrize("named", [{}, {"coat": "x"}, {"coat": "9" * 30}, {"back": "77"}, {"coat": "٣"}])
def test_what_is_no_coat_is_not_found(client, named):
    assert wipe(client, **named).status_code == 404
    assert not Wipe.objects.exists()


def test_two_people_see_one_clock(client, lead, send, shop):
    RecipeVersion.objects.update(coats_again=3)
    happened.strip(shop.mold)
    before = client.get(f"{PAGE}now/").text
    send("coat", what="coat")
    client.force_login(lead)
    after = client.get(f"{PAGE}now/").text
    for piece in ("coat-head", "coat-clock", "coat-button", "coat-stack"):
        assert f'id="{piece}"' in before
        assert f'id="{piece}"' in client.get(PAGE).text
    assert "Coat 1 on" in before
    assert "Coat 2 on" in after
    assert len(after) < 12_000


def test_the_lot_of_the_open_tin_goes_on(client, send, shop, hand):
    tin = open_tin(shop.wax, holder=hand, stuff="coat", lot="14", by=hand)
    page = client.get(PAGE).text
    assert "Tin <b>14</b>, open with you." in page
    assert page.index("Tin <b>14</b>") < page.index("One more coat on")
    for typed in ({}, {"lot": "15"}, {"release_system": "SEMI"}, {"what": "sealer"}):
        send("coat", **{"what": "coat", "tins": str(tin.pk), **typed})
    lots = [one.payload.get("lot") for one in Entry.objects.filter(tool=shop.mold).order_by("id")][-4:]
    assert lots == ["14", "15", None, None]


def test_a_semi_permanent_recipe_never_says_wax(client, shop):
    RecipeVersion.objects.update(family="semi_permanent", name="Release liquid", coats_again=3, wipe_minutes=10)
    happened.strip(shop.mold)
    happened.log_coat(shop.mold)
    for page in (PAGE, f"{PAGE}now/", "/coats/", "/coats/together/?tool=DECK-2A", "/recipes/WAX/tin/"):
        text = re.sub(r"<[^>]+>", "", client.get(page).text)
        assert "wax" not in text.replace("WAX", "").lower()


def test_many_more_coats_than_are_wanted_are_asked_about_once(client, hand, send, shop):
    client.force_login(hand)
    RecipeVersion.objects.update(coats_new=3)
    before = Entry.objects.count()
    answer = send("coat", count=99)
    assert "99 at once? 3 coats are wanted." in answer.text
    assert Entry.objects.count() == before
    assert send("coat", count=99, sure="count 99").status_code == 302
    assert send("coat", count=6).status_code == 302
    assert Entry.objects.count() == before + 2
