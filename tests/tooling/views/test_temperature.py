"""The shop's temperature on the board and on its page."""

import re
from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from tests.tooling.views.works import ago, mold
from tooling.models import Person, Temperature

pytestmark = pytest.mark.django_db
PAGE = "/temperature/"


@pytest.fixture
def board(morning):
    mold("DECK-2A", morning)


def plain(reply):
    return " ".join(reply.text.replace("</", " </").split())


def send(client, **more):
    return client.post(PAGE, {"token": str(uuid4()), "value": "21,5", **more})


def test_the_board_asks_once_a_day_and_then_says_who_measured(sign_in, board, hand):
    client = sign_in("hand")
    assert "not measured yet" in (asked := plain(client.get("/")))
    assert 'name="value"' in asked
    assert send(client, back="/").url == "/"
    one = Temperature.objects.get()
    assert (one.value_c, one.by, one.recorded_by) == (Decimal("21.5"), hand, hand)
    answered = plain(client.get("/"))
    assert re.search(r"21.5 °C </span>, measured <time[^>]+>07:40 </time>, <span class=\"nb\">", answered)
    assert "Rub it out" in answered
    assert 'name="value"' not in answered


def test_a_reader_looks_and_writes_nothing(sign_in, board):
    client = sign_in("reader")
    assert "not measured" in plain(client.get("/"))
    assert 'name="value"' not in client.get("/").text + client.get(PAGE).text
    assert send(client).status_code == 403
    assert not Temperature.objects.exists()


def test_in_the_units_of_the_person(sign_in, board):
    client = sign_in("hand", units="us")
    assert "°F" in client.get("/").text
    send(client, value="70.7")
    assert "70.7 °F" in client.get("/").text
    assert Temperature.objects.get().value_c == Decimal("21.5")


def test_a_station_is_asked_whose_hands(sign_in, board, hand, station):
    client = sign_in("station")
    page = client.get(PAGE, {"value": "21.5", "back": "/"})
    assert "Whose hands?" in page.text
    assert 'value="21.5"' in page.text
    assert not Temperature.objects.exists()
    assert "Whose hands were it?" in send(client).text
    assert send(client, by=hand.pk, back="/").url == "/"
    one = Temperature.objects.get()
    assert (one.by, one.recorded_by) == (hand, station)


@pytest.mark.parametrize(
    ("value", "said"),
    [("", "thermometer show?"), ("warm", "is no number"), ("61", "between -20 and 60 °C"), ("5 mm", "asked in °C")],
)
def test_nonsense_is_said_and_nothing_typed_is_lost(sign_in, board, value, said):
    reply = send(sign_in("hand"), value=value, note="by the door")
    assert said in reply.text
    assert "by the door" in reply.text
    assert f'value="{value}"' in reply.text or not value
    assert not Temperature.objects.exists()


def test_earlier_today(sign_in, board):
    send(sign_in("hand"), at="earlier", at_time="06:15")
    assert Temperature.objects.get().at == ago(minutes=85)


def test_twice_is_harmless_and_other_content_a_clear_page(sign_in, board):
    client, token = sign_in("hand"), str(uuid4())
    assert [send(client, token=token).status_code for _ in range(2)] == [302, 302]
    assert Temperature.objects.count() == 1
    assert send(client, token=token, value="30").status_code == 409


def test_rubbed_out_from_the_board(sign_in, board):
    client = sign_in("hand")
    send(client)
    address = f"{PAGE}{Temperature.objects.get().pk}/rub-out/"
    assert client.get(address).status_code == 405
    assert client.post(address, {"back": "//elsewhere.example/"}).url == PAGE
    assert client.post(address, {"back": "/"}).url == "/"
    assert "not measured yet" in client.get("/").text


def test_a_lead_strikes_one_out_and_it_stays_to_be_read(sign_in, board, lead):
    mara = Person.objects.named("Mara")
    one = Temperature.objects.create(at=ago(hours=1), value_c=50, by=mara, recorded_at=ago(hours=1))
    client = sign_in("lead")
    address = f"{PAGE}{one.pk}/strike/"
    assert address in client.get(PAGE).text
    assert "Say why" in client.post(address, {"token": str(uuid4())}).text
    assert client.post(address, {"token": str(uuid4()), "why": "beside the oven"}).url == PAGE
    one.refresh_from_db()
    assert (one.struck_by, one.struck_why) == (lead, "beside the oven")
    assert "beside the oven" in client.get(PAGE).text
    assert "struck out already" in client.get(address).text


def test_as_many_queries_for_many_days_as_for_one(sign_in, board, django_assert_num_queries):
    client = sign_in("hand")
    for number in range(20):
        Temperature.objects.create(at=ago(hours=9 * number), value_c=20, recorded_at=ago(hours=9 * number))
        if number in (0, 19):
            with django_assert_num_queries(5):
                client.get(PAGE)


def test_one_that_was_held_up_was_measured_when_it_was_first_sent(sign_in, board):
    send(sign_in("hand"), waited="1800")
    one = Temperature.objects.get()
    assert one.recorded_at - one.at == timedelta(minutes=30)
