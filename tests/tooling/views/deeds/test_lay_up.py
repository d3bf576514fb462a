"""Start of lay-up: go or no go, and what is written."""

from datetime import timedelta

import pytest

from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, RecipeVersion, Summary
from tooling.words.when import dated

pytestmark = pytest.mark.django_db
PAGE = "/tools/DECK-2A/lay-up/"


@pytest.fixture(autouse=True)
def signed_in(client, hand, shop):
    client.force_login(hand)


def test_a_ready_mold_is_a_go(client):
    page = client.get(PAGE)
    assert page.status_code == 200
    assert page.context["stops"] == []
    assert "The mold insert in it may be used as well." in page.text
    assert "It does not say that the part will be fit." in page.text
    assert "Check that" not in page.text


def test_a_film_whose_time_is_up_is_still_to_be_looked_at(client, shop):
    RecipeVersion.objects.update(film_every_pull=True)
    for tool in (shop.mold, shop.insert):
        happened.lay_film(tool)
    assert "Check that the film is dry." in client.get(PAGE).text


def test_one_tap_writes_the_start_with_the_time_it_may_come_out(send, hand):
    answer = send("lay_up", part_typed="SK520-DECK", serial="0173")
    assert answer.url == "/tools/DECK-2A/"
    entry = Entry.objects.get(kind="lay_up")
    assert (entry.part, entry.serial, entry.by, entry.recorded_by) == ("SK520-DECK", "0173", hand, hand)
    assert entry.earliest_pull - entry.at == timedelta(hours=26, minutes=30)
    assert not entry.payload.keys() & {"reason", "against"}
    assert Summary.objects.get(tool=entry.tool).serial == "0173"


def test_what_was_made_before_needs_no_typing(client, send, shop):
    happened.lay_up(shop.mold, part="SK520-DECK")
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
    assert 'value="SK520-DECK" checked' in client.get(PAGE).text
    send("lay_up", part="SK520-DECK")
    assert Entry.objects.filter(kind="lay_up").last().part == "SK520-DECK"


def test_serials_of_several_cavities_are_one_a_line_or_between_commas(send):
    assert send("lay_up", serial="0173\r\n 0174,0175; \r\n\r\n").status_code == 302
    assert Entry.objects.get(kind="lay_up").serial == "0173, 0174, 0175"


def test_a_serial_that_stands_there_twice_keeps_its_answer_over_lines(send):
    answer = send("lay_up", serial="7\r\n7")
    assert [one.key for one in answer.context["form"].asked] == ["twice 7, 7"]
    assert send("lay_up", serial="7\r\n7", sure="twice 7, 7").status_code == 302


def test_the_earliest_pull_is_filled_in_and_follows_part_and_start(client, send, shop):
    happened.lay_up(shop.mold, part="SK520-DECK")
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
    form = client.get(PAGE).context["form"]
    filled = form["earliest"].value()
    assert dated(form.now + timedelta(hours=26, minutes=30), form.shop.zone).replace(" ", "T") == filled
    said = {"earliest": filled, "filled_in": filled, "anyway": "happened", "seen": "not_prepared DECK-2A"}
    send("lay_up", part="SK520-DECK", at="yesterday", at_time="08:00", **said)
    entry = Entry.objects.filter(kind="lay_up").last()
    assert entry.earliest_pull - entry.at == timedelta(hours=26, minutes=30)


def test_a_part_without_times_takes_what_was_filled_in_for_another_away(client, send, shop):
    said = {"earliest": "2026-07-09T10:00", "filled_in": "2026-07-09T10:00"}
    assert send("lay_up", part_typed="ODD", sure="part ODD", **said).status_code == 302
    assert Entry.objects.get(kind="lay_up").earliest_pull is None


def test_an_earliest_pull_of_ones_own_stands(send):
    typed = {"earliest": "2026-07-20T10:00", "filled_in": "2026-07-09T10:00", "at": "exact"}
    typed |= {"anyway": "happened", "seen": "not_prepared DECK-2A"}
    assert send("lay_up", part_typed="SK520-DECK", at_exact="2026-07-19T10:00", **typed).status_code == 302
    assert Entry.objects.get(kind="lay_up").earliest_pull.isoformat() == "2026-07-20T09:00:00+00:00"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1999-01-01T10:00", "before the lay-up starts"),
        ("2199-12-31T23:59", "90 days"),
        ("9999-12-31T23:59", "Check the year"),
        ("soon", "is no time"),
        ("0001-01-01T00:00", "Check the year"),
    ],
)
def test_an_earliest_pull_that_cannot_be_is_said_at_its_field(send, typed, words):
    answer = send("lay_up", earliest=typed, serial="0173")
    assert words in errors(answer)["earliest"][0]
    assert "0173" in answer.text
    assert not Entry.objects.filter(kind="lay_up").exists()


def test_the_page_asks_as_much_of_a_long_history_as_of_a_short_one(client, shop, django_assert_max_num_queries):
    happened.lay_up(shop.mold, part="SK520-DECK")
    happened.log_pull(shop.mold, came_off="free", part="SK520-DECK", count=3)
    client.get(PAGE)
    with django_assert_max_num_queries(40) as short:
        client.get(PAGE)
    for _ in range(4):
        happened.take_reading(shop.mold, quantity="vacuum drop", value=12, unit="mbar")
        happened.log_pull(shop.mold, came_off="free", part="SK520-DECK")
        happened.remove(shop.insert)
        happened.install(shop.insert, mold=shop.mold)
    with django_assert_max_num_queries(len(short)):
        client.get(PAGE)
