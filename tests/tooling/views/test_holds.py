"""Every hold that stands is said with its words: on the tool, before a lay-up, where it is looked at, on the board."""

import re

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Person

pytestmark = pytest.mark.django_db
JONAS = "by Jonas: “chip at the transom”"
MARA = "by Mara: “crack, flange: by the second bolt”"


@pytest.fixture
def words(client, hand, morning):
    client.force_login(hand, backend="shared.access.RoleBackend")

    def read(address):
        text = re.sub(r"<[^>]+>", " ", client.get(address).text.partition("<main")[2])
        return " ".join(text.split())

    return read


@pytest.fixture
def deck(morning):
    return mold("DECK", morning)


def held_twice(tool):
    do("hold", tool, Person.objects.named("Old"), at=ago(hours=9), reason="let go since")
    do("inspect", tool, at=ago(hours=8), passed=True)
    do("hold", tool, Person.objects.named("Jonas"), at=ago(hours=3), reason="chip at the transom")
    do("hold", tool, Person.objects.named("Mara"), at=ago(hours=2), reason="crack, flange: by the second bolt")


@pytest.mark.parametrize("page", ["", "lay-up/", "looked-at/", "hold/"])
def test_each_hold_has_its_words(words, deck, page):
    held_twice(deck)
    text = words(f"/tools/DECK/{page}")
    assert JONAS in text
    assert MARA in text
    assert text.partition("History")[0].count("let go since") == 0


def test_the_board_says_the_first_and_how_many_more(words, deck):
    held_twice(deck)
    assert "“chip at the transom” and 1 more." in words("/")


def test_an_insert_that_is_held_says_why_before_the_lay_up(words, deck, morning):
    rim = mold("RIM", morning, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=5), mold=deck)
    do("hold", rim, Person.objects.named("Jonas"), at=ago(hours=3), reason="chip at the transom")
    for page in ("", "lay-up/"):
        assert JONAS in words(f"/tools/DECK/{page}")


def test_what_held_it_besides_a_stop(words, deck):
    do("log_pull", deck, Person.objects.named("Ines"), at=ago(hours=4), came_off="lost", note="in two pieces")
    do("log_pull", deck, at=ago(hours=3), came_off="light", tool_damaged=True)
    do("log_pull", deck, at=ago(hours=3), came_off="free")
    do("inspect", deck, Person.objects.named("Mara"), at=ago(hours=2), passed=False)
    text = words("/tools/DECK/looked-at/")
    assert "by Ines: a part came off lost; “in two pieces”" in text
    assert "a part came off light, the tool is marked." in text
    assert "by Mara: looked at, and it did not pass." in text
    assert "came off free" not in text


def test_the_board_begins_with_a_capital_where_nobody_said_anything(words, deck):
    do("log_pull", deck, at=ago(hours=3), came_off="light", tool_damaged=True)
    assert "A part came off light, the tool is marked." in words("/")


def test_nobody_said_anything(words, deck):
    do("hold", deck, at=ago(hours=3))
    do("hold", deck, at=ago(hours=2))
    assert "For 2 reasons." in words("/")
    assert words("/tools/DECK/").count("Since today") == 2
