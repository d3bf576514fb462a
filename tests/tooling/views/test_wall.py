"""The wall: which rows, in which order, what each offers; and what a station opens and what it does not."""

import pytest
import time_machine

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Person, Pin, Shift, Tool
from tooling.services import deeds, pins

pytestmark = pytest.mark.django_db


def codes(reply):
    return [line.one.row.tool.code for line in reply.context["rows"]]


@pytest.fixture
def molds(morning):
    """One of each: time is up, a coat is going on, can be laid up, waits, held; and one that nobody used."""
    for code in ("UP", "WAIT"):
        mold(code, morning)
    made = {code: mold(code, morning, pulls=1) for code in ("READY", "HELD")}
    do("lay_up", mold("BUSY", morning), at=ago(hours=12), earliest_pull=ago(hours=2))
    do("hold", made["HELD"], reason="crack")
    long = mold("LONG", morning)
    do("lay_up", long, at=ago(hours=1), earliest_pull=ago(hours=-3))
    with time_machine.travel(ago(days=40), tick=False):
        mold("IDLE", morning, pulls=None)
    return made


def test_what_can_be_done_now_stands_first(sign_in, molds):
    shown = codes(sign_in("station").get("/wall/"))
    assert shown[0] == "BUSY"
    assert shown[-2:] == ["LONG", "HELD"]
    assert "IDLE" not in shown


def test_a_row_says_what_comes_next_and_offers_it(sign_in, molds):
    text = sign_in("station").get("/wall/").text
    assert "Time is up: check it is hard." in text
    assert 'href="/tools/BUSY/pulled/"' in text
    assert "Part in the mold, not before 10:40." in text


def test_a_reader_sees_the_rows_and_no_deeds(sign_in, molds):
    text = sign_in("reader").get("/wall/").text
    assert "BUSY" in text
    assert "/pulled/" not in text


def test_no_row_moves_while_the_screen_stands(sign_in, molds):
    client = sign_in("station")
    first = client.get("/wall/")
    order = codes(first)
    do("hold", Tool.objects.get(code="BUSY"), reason="crack")
    assert codes(client.get(first.context["kept"])) == order
    assert codes(client.get("/wall/rows/")) != order
    assert codes(client.get("/wall/rows/?order=x,,99999999999999999999,-1")) == codes(client.get("/wall/rows/"))


def test_where_nothing_changed_nothing_is_sent(sign_in, molds):
    client = sign_in("station")
    first = client.get("/wall/rows/")
    again = client.get("/wall/rows/", headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert "no-store" not in first["Cache-Control"]


def test_a_deed_at_a_station_belongs_to_its_wall(sign_in, molds):
    assert '<a href="/wall/" aria-current="true">' in sign_in("station").get("/tools/UP/coat/").text
    assert '<a href="/tools/" aria-current="true">' in sign_in("hand").get("/tools/UP/coat/").text


def test_an_unknown_code_is_said_over_the_rows(sign_in, molds):
    text = sign_in("station").get("/tools/?q=BUSSY&go=1&wall=1", follow=True).text
    assert "No tool, part or serial number is “BUSSY”" in text
    assert '<a class="deed" href="/tools/BUSY/">' in text
    assert 'id="rows"' in text


def test_what_was_just_written_stands_under_its_row(sign_in, molds, station, hand):
    deeds.log_coat(molds["READY"], by=hand, recorded_by=station, at=NOW)
    text = sign_in("station").get("/wall/").text
    assert "READY, written 07:40:" in text
    assert "By Test hand." in text
    assert 'href="/tools/READY/entries/' in text


@pytest.mark.usefixtures("molds")
def test_the_queries_do_not_grow_with_the_rows(
    sign_in, morning, django_assert_num_queries, django_assert_max_num_queries
):
    client = sign_in("station")
    with django_assert_max_num_queries(25) as before:
        client.get("/wall/")
    for number in range(6):
        mold(f"MORE-{number}", morning, pulls=1)
    with django_assert_num_queries(len(before)):
        client.get("/wall/")


def test_signing_in_at_a_station_leads_to_the_rows(client, station):
    typed = {"username": station.name, "password": "long enough for a test"}
    assert client.post("/sign-in/", typed).url == "/wall/"


def test_no_personal_page_opens_at_a_station(sign_in, morning, station, hand):
    client = sign_in("station")
    for address in (
        "/me/",
        "/people/",
        f"/people/{hand.pk}/",
        "/people/new/",
        "/shop/",
        "/import/",
        "/keep/",
        "/jobs/",
    ):
        assert client.get(address).status_code == 403, address
    page = client.get("/wall/").text
    assert "/me/" not in page
    assert "/people/" not in page


def test_one_careless_tap_signs_no_tablet_out(sign_in, morning, station):
    client = sign_in("station")
    mara = Person.objects.named("Mara")
    Shift.objects.create(station=station, person=mara, until=NOW)
    assert "Sign this tablet out?" in client.post("/sign-out/").text
    assert client.get("/wall/").status_code == 200
    client.post("/sign-out/", {"sure": "yes"})
    assert client.get("/wall/").url == "/sign-in/?next=/wall/"
    assert not Shift.objects.exists()


def test_people_says_how_stations_ask(sign_in, morning, hand):
    client = sign_in("lead")
    assert "at a station a name is enough" in client.get("/people/").text
    pins.set_pin(hand, pin="8205")
    text = client.get("/people/").text
    assert "Without a PIN, and so not able to log there:" in text
    assert Pin.objects.count() == 1


def test_a_lead_chooses_the_units_of_a_tablet(sign_in, morning, station):
    client = sign_in("lead")
    client.post(f"/people/{station.pk}/", {"do": "units", "units": "us"})
    station.refresh_from_db()
    assert station.units == "us"
    assert client.post(f"/people/{station.pk}/", {"do": "units", "units": "cubits"}).status_code == 200


def test_a_mold_about_to_be_used_says_that_a_look_over_is_wanted(sign_in, morning):
    deck = mold("DECK", morning, pulls=2, inspect_every_pulls=2)
    client = sign_in("station")
    assert "A look-over is wanted." in client.get("/wall/").text
    do("lay_up", deck, at=ago(hours=1))
    assert "A look-over is wanted." not in client.get("/wall/").text
