"""What to try in the demo: the steps of each role, the strip that leads there, and its logins at the door."""

from uuid import uuid4

import pytest
from django.core.management import call_command

from shared import clock
from tests.shared.paper.needs import pango
from tests.tooling.views.works import do, mold, recipe
from tooling.models import Shop, Tried
from tooling.selectors.demo import ticks
from tooling.services import deeds, demo_logins
from tooling.services.tags.printed import mark
from tooling.words.demo import STEPS

pytestmark = pytest.mark.django_db
STRIP = "This is a demo: what to try"


@pytest.fixture(autouse=True)
def data_dir(settings, tmp_path):
    settings.DATA_DIR = tmp_path


@pytest.fixture
def demo():
    return Shop.objects.create(name="Saltbatch Boatworks", time_zone="UTC", demo_since=clock.now())


@pytest.fixture
def door(client, demo):
    """The page of the door, asked for from this machine unless something else is said."""
    demo_logins.create()

    def page(**how):
        return client.get("/sign-in/", **{"REMOTE_ADDR": "127.0.0.1", "HTTP_HOST": "127.0.0.1:8000", **how}).text

    return page


@pytest.mark.parametrize("role", STEPS)
def test_each_role_has_five_steps_that_lead_somewhere(sign_in, demo, role):
    mold("DECK-2B", recipe())
    client = sign_in(role)
    text = client.get("/try/").text
    assert "0 of 5 tried." in text
    assert len(STEPS[role]) == len({one.key for one in STEPS[role]}) == 5
    for link in [piece.split('"')[0] for piece in text.split('class="deed first" href="')[1:]]:
        assert client.get(link).status_code == 200


def test_what_was_written_ticks_itself(sign_in, demo, hand):
    tool = mold("DECK-2B", recipe())
    client = sign_in("hand")
    deeds.log_pull(tool, by=hand, recorded_by=hand, at=clock.now(), came_off="free", token=uuid4())
    text = client.get("/try/").text
    assert "1 of 5 tried." in text
    assert "Done: it stands in a history." in text


@pytest.mark.parametrize("way", ["void", "correct"])
def test_a_void_and_a_correction_put_a_wrong_entry_right(sign_in, demo, hand, lead, way):
    pull = do("log_pull", mold("DECK-2B", recipe()), by=hand, at=clock.now(), came_off="free")
    changes = {} if way == "void" else {"changes": {"came_off": "tight"}}
    do(way, pull, by=lead, at=clock.now(), reason="tapped wrong", **changes)
    (right,) = [one for one in ticks(lead, demo).each if one.step.key == "put_right"]
    assert (right.done, right.seen) == (True, True)


@pango
def test_a_sheet_that_was_opened_and_tags_that_were_printed_tick_themselves(sign_in, demo, lead):
    mold("DECK-2B", recipe())
    for role in ("reader", "lead"):  # a lead has no such step
        assert sign_in(role).get("/tools/DECK-2B/sheet.pdf").status_code == 200
    assert Tried.objects.values_list("person__role", "step").get() == ("reader", "sheet")
    mark({}, by=lead, at=clock.now(), count=1, given={})
    assert [one.step.key for one in ticks(lead, demo).each if one.seen] == ["tags"]


@pango
def test_a_sheet_ticks_nothing_in_a_shop_of_its_own(sign_in, demo):
    Shop.objects.update(demo_since=None)
    mold("DECK-2B", recipe())
    sign_in("reader").get("/tools/DECK-2B/sheet.pdf")
    assert not Tried.objects.exists()


def test_a_step_is_ticked_by_tap_once_and_back(sign_in, demo):
    client = sign_in("reader")
    for _ in range(2):
        assert client.post("/try/", {"step": "find", "done": "yes"}).url == "/try/"
    assert "1 of 5 tried." in client.get("/try/").text
    client.post("/try/", {"step": "find", "done": "no"})
    assert not Tried.objects.exists()


def test_a_step_of_another_role_is_refused(sign_in, demo):
    assert sign_in("reader").post("/try/", {"step": "inspected", "done": "yes"}).status_code == 400
    assert not Tried.objects.exists()


@pytest.mark.parametrize(("role", "home"), [("lead", "/"), ("station", "/wall/")])
def test_the_strip_is_put_away_by_each_person_and_comes_back(sign_in, demo, role, home):
    for code in ("DECK-2B", "DECK-2A"):
        mold(code, recipe(code))
    client = sign_in(role)
    assert STRIP in client.get(home).text
    assert client.post("/try/", {"step": "strip", "done": "yes"}).url == home
    text = client.get(home).text
    assert STRIP not in text
    assert "What to try" in text
    client.post("/try/", {"step": "strip", "done": "no"})
    assert STRIP in client.get(home).text


def test_a_shop_of_its_own_has_none_of_it(sign_in, lead):
    Shop.objects.create(name="Saltbatch Boatworks", time_zone="UTC")
    client = sign_in("lead")
    assert client.get("/try/").url == client.post("/try/", {"step": "sheet", "done": "yes"}).url == "/"
    assert not Tried.objects.exists()
    assert "What to try" not in client.get("/recipes/").text


def test_the_door_of_a_demo_lets_in_with_one_tap(door, client):
    text = door()
    for name, _role in demo_logins.LOGINS:
        assert f'name="username" value="{name}"' in text
    assert "hand: pull a part, put a coat on" in text
    assert "face/demo.css" in text.split("</head>")[0]
    reply = client.post("/sign-in/", {"username": "Wall tablet", "password": demo_logins.PASSWORD, "next": ""})
    assert reply.url == "/wall/"


@pytest.mark.parametrize(
    "how",
    [
        {"REMOTE_ADDR": "192.168.1.30"},
        {"REMOTE_ADDR": "::ffff:192.168.1.30"},
        {"REMOTE_ADDR": ""},
        {"HTTP_X_FORWARDED_FOR": "127.0.0.1"},
        {"HTTP_X_REAL_IP": "127.0.0.1"},
        {"HTTP_FORWARDED": "for=127.0.0.1"},
        {"HTTP_VIA": "1.1 somebody"},
        {"HTTP_HOST": "shop.example"},
    ],
)
def test_the_door_says_nothing_where_others_may_come_in(door, settings, how):
    settings.ALLOWED_HOSTS = ["*"]
    assert demo_logins.PASSWORD not in door(**how)


@pytest.mark.parametrize("site", ["http://192.168.1.20:8000", "https://shop.example"])
def test_an_open_site_says_nothing_even_here(door, settings, site):
    settings.SITE_URL = site
    assert demo_logins.PASSWORD not in door()


def test_the_pin_is_said_to_the_tablet_where_the_door_says_it(door, sign_in, settings):
    said, here = f"began as {demo_logins.PIN}", {"REMOTE_ADDR": "127.0.0.1", "HTTP_HOST": "127.0.0.1:8000"}
    assert said not in sign_in("hand").get("/try/", **here).text
    client = sign_in("station")
    assert said in client.get("/try/", **here).text
    assert said not in client.get("/try/", **{**here, "HTTP_VIA": "1.1 somebody"}).text
    own, settings.SITE_URL = settings.SITE_URL, "https://shop.example"
    assert said not in client.get("/try/", **here).text
    settings.SITE_URL = own
    demo_logins.renew()
    assert said not in client.get("/try/", **here).text


def test_renewed_passwords_are_never_shown(door):
    demo_logins.renew()
    text = door()
    assert "Ines" not in text
    assert not any(login.password in text for login in demo_logins.working())


def test_a_name_with_a_password_of_its_own_is_not_offered(door, django_user_model):
    ines = django_user_model.objects.named("Ines")
    ines.set_password("an own one")
    ines.save()
    text = door()
    assert "Jonas" in text
    assert "Ines" not in text
    assert "Each of them has the password" in text
    assert "all four" not in text


def test_the_door_of_a_shop_of_its_own_offers_nobody(door):
    Shop.objects.update(demo_since=None)
    assert demo_logins.PASSWORD not in door()


def test_no_sheet_carries_that_it_is_a_demo(demo, tmp_path):
    call_command("export_shop", str(tmp_path / "out"), verbosity=0)
    assert "demo" not in (tmp_path / "out" / "shop.csv").read_text(encoding="utf-8")
