"""The page of a lift: the shop's own words first, then what a published method makes of one person's lift."""

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Place, Tool

pytestmark = pytest.mark.django_db
LIFT = "/tools/DECK/lift/"
ASKED = {
    "reach": "250", "from_height": "550", "to_height": "1450", "often": "3", "hours": "1", "turn": "0", "grip": "fair",
}  # fmt: skip


@pytest.fixture
def deck(morning):
    """A mold of 12 kg on a shelf whose height is known."""
    shelf = Place.objects.create(code="B-1", name="Rack B, shelf 1", height_mm=550)
    Place.objects.create(code="B-3", name="Rack B, shelf 3", height_mm=1450)
    Place.objects.create(code="LOFT", name="Loft", kind="room", height_mm=3200)
    return mold("DECK", morning, place=shelf, mass_kg=12, lift="trolley and two")


def page(client, address=LIFT, **asked):
    reply = client.get(address, asked)
    assert reply.status_code == 200
    return reply, " ".join(reply.text.split())


def test_a_stranger_is_asked_to_sign_in(client, deck):
    assert client.get(LIFT).url == f"/sign-in/?next={LIFT}"


def test_no_such_tool_and_an_old_code(sign_in, deck):
    client = sign_in("reader")
    assert client.get("/tools/NONE/lift/").status_code == 404
    assert client.get("/tools/deck/lift/", {"reach": "1"}).url == f"{LIFT}?reach=1"


def test_the_shop_s_words_come_first_and_nothing_is_filled_in(sign_in, deck):
    client = sign_in("reader")
    reply, text = page(client)
    assert text.index("Lift: trolley and two.") < text.index("What a published method recommends for one person")
    assert text.index("Tools are heavy and awkward") < text.index("Reach, where it is farthest")
    form = reply.context["form"]
    assert ([field.value() for field in form if field.value()], reply.context["answer"]) == ([], None)
    assert [code for code, _words in form.fields["from_place"].choices] == ["", "B-3", "B-1"]
    _reply, text = page(client, **{**ASKED, "reach": ""})
    assert "Say how far away the hands are" in text
    assert 'value="1450"' in text
    assert f'href="{LIFT}"' in client.get("/tools/DECK/").text
    assert f'href="{LIFT}"' in client.get("/racks/B-1/").text


def test_it_says_the_lower_end_and_shows_how_it_came_about(sign_in, deck):
    """15.72 kg where it is lifted: NIOSH 94-110, example 4; 13.91 where it is put down, by hand."""
    _reply, text = page(sign_in("reader"), **ASKED)
    assert "Within what the method recommends." in text
    assert "For one person and two hands the method recommends at most 13.9 kg here." in text
    assert "DECK weighs 12 kg: 0.86 times that, its lifting index." in text
    assert "Hands above the floor: 550 mm, then 1450 mm." in text
    assert "0.940 (height) × 0.870 (way) × 1.000 (turn) × 0.880 (how often) × 0.950 (grip) = 15.7 kg." in text
    assert "This program computes no lift for two" in text


def test_a_short_time_is_one_only_with_its_rest(sign_in, deck):
    """Example 4 without the rest, hands at 145 cm: 0.79 less than 23, and 0.55 where it goes on: 13.91·0.55/0.88."""
    client = sign_in("reader")
    _reply, text = page(client)
    assert "light work: after an hour for 1.2 times as long" in text
    _reply, text = page(client, **{**ASKED, "hours": "8"})
    assert "at most 8.6 kg here" in text


def test_what_is_long_or_high_has_a_poor_grip(sign_in, deck):
    Tool.objects.filter(pk=deck.pk).update(length_mm=5350, height_mm=200)
    client = sign_in("reader")
    reply, text = page(client, **ASKED)
    assert reply.context["answer"] is None
    assert "By its sizes the method knows no better grip of it." in text
    _reply, text = page(client, **{**ASKED, "grip": "poor"})
    assert "× 0.900 (grip)" in text


def test_hands_grip_above_a_place_and_inches_stand_for_millimetres(sign_in, deck):
    """Hands at 550 + 203.2 = 753.2 and 1450 + 203.2 mm: 23·1·(1 - 0.003·90.32)·0.87·0.88 = 12.837 kg, 28.30 lb."""
    places = {**ASKED, "from_height": "8", "to_height": "8", "from_place": "B-1", "to_place": "B-3"}
    client = sign_in("reader", units="us")
    _reply, text = page(client, **{**places, "reach": "9"})
    assert "at most 28.3 lb here" in text
    assert "50.7 lb (23 kg) × 1.000 (reach)" in text
    _reply, text = page(client, **{**places, "reach": "25"})
    assert "Outside the method: hoist." in text
    assert "The reach is 25 in; the method ends at ≈ 24 3/4 in." in text


def test_too_much_for_one_person_is_a_hoist(sign_in, deck):
    rim = mold("RIM", None, pulls=None, kind=Kind.INSERT, mass_kg=30)
    do("install", rim, at=ago(hours=1), mold=deck)
    _reply, text = page(sign_in("reader"), **ASKED)
    assert "More than the method recommends for one person." in text
    assert "The shop’s own words: trolley and two. Where they leave it to one person, ask the lead first" in text
    assert "DECK weighs 42 kg with the mold inserts in it: 3.02 times that, its lifting index." in text
    Tool.objects.filter(pk=deck.pk).update(lift="")
    assert "Too much for one person: hoist." in page(sign_in("reader"), **ASKED)[1]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"turn": "further"}, "The body is turned further than 135°"),
        ({"to_height": "1800"}, "The hands are 1800 mm above the floor; the method ends at 1750 mm."),
        ({"often": "15"}, "the method leaves nothing to lift by hand"),
    ],
)
def test_outside_the_method_is_a_hoist(sign_in, deck, more, words):
    _reply, text = page(sign_in("reader"), **{**ASKED, **more})
    assert words in text
    assert "hoist." in text


def test_what_is_not_weighed_is_within_nothing(sign_in, deck):
    do("lay_up", deck, at=ago(minutes=5), part="P-1")
    Tool.objects.filter(pk=deck.pk).update(mass_kg=None)
    _reply, text = page(sign_in("reader"), **ASKED)
    assert "Nobody knows: it is not all weighed." in text
    assert "Without a mass: DECK. Weigh it first." in text
    assert "A part is in it, which weighs as well." in text


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"reach": "far"}, "“far” is no number"),
        ({"reach": "0"}, "A reach above 0"),
        ({"to_height": "", "to_place": "B-3"}, "Say how high the hands grip it."),
        ({"hours": ""}, "Say for how long."),
        ({"grip": ""}, "Say how it can be gripped."),
        ({"from_height": "-1"}, "A number, 0 or more."),
        ({"from_place": "NONE"}, "Choose one of those offered."),
        ({"often": "77"}, "Choose one of those offered."),
    ],
)
def test_what_is_wrong_is_said_at_its_field_and_stays(sign_in, deck, wrong, words):
    reply, text = page(sign_in("reader"), **{**ASKED, **wrong})
    assert words in text
    assert reply.context["answer"] is None
    assert 'value="250"' in text or "reach" in wrong
