"""New places: racks with shelves, bays and heights, drawn before they are put up, and the floor with one tap each."""

import pytest

from tests.tooling.views.works import do, mold
from tooling.forms.new_places import meant
from tooling.models import Place, Tool

pytestmark = pytest.mark.django_db
NEW = "/racks/new/"
RACK = {"lines": "rack C, 4 shelves, 5 bays", "heights": "40, 90, 140, 190 cm", "load": "120"}


def heights():
    return {
        place.code: None if place.height_mm is None else str(place.height_mm)
        for place in Place.objects.filter(kind="shelf")
    }


def test_a_rack_with_bays_is_drawn_and_then_put_up_with_kinds_heights_and_load(sign_in, morning):
    client = sign_in("lead")
    drawn = client.post(NEW, {**RACK, "do": "show"})
    assert "25 new places" in drawn.text
    [rack] = drawn.context["drawn"]
    assert [shelf.place.code for shelf in rack.shelves] == ["C-4", "C-3", "C-2", "C-1"]
    assert [bay.place.code for bay in rack.shelves[0].bays][::4] == ["C-4-1", "C-4-5"]
    assert not Place.objects.exists()
    assert client.post(NEW, {**RACK, "do": "put-up"}).url.partition("?")[0] == "/racks/RACK-C/"
    bay = Place.objects.get(code="C-4-5")
    assert (bay.name, bay.kind, bay.parent.code, str(bay.height_mm)) == (
        "Rack C, shelf 4, bay 5", "bay", "C-4", "1900",
    )  # fmt: skip
    assert (bay.parent.kind, bay.parent.parent.kind, str(bay.parent.max_load_kg)) == ("shelf", "rack", "120")
    assert (bay.max_load_kg, Place.objects.get(code="RACK-C").max_load_kg) == (None, None)


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("40, 90, 140 cm", ["400", "900", "1400"]),
        ("400;900;1400", ["400", "900", "1400"]),
        ("400,900,1400", ["400", "900", "1400"]),
        ("from 40 to 190 cm", ["400", "1150", "1900"]),
        ("0 to 1000 mm", ["0", "500", "1000"]),
        ("12 in, 30 in, 100 cm", ["304.8", "762", "1000"]),
        ("", [None, None, None]),
    ],
)
def test_heights_are_read_from_the_lowest(sign_in, morning, typed, found):
    sign_in("lead").post(NEW, {"lines": "rack C, 3 shelves", "heights": typed, "do": "put-up"})
    assert list(heights().values()) == found


@pytest.mark.parametrize("typed", ["40, 90 cm", "90, 40, 140", "high", "40, 90, 5 kg", "-1 to 100", "9" * 30, "\x00"])
def test_heights_that_cannot_be_write_nothing_and_lose_nothing(sign_in, morning, typed):
    reply = sign_in("lead").post(NEW, {**RACK, "heights": typed, "do": "put-up"})
    assert reply.context["form"].errors["heights"]
    assert RACK["lines"] in reply.text
    assert not Place.objects.exists()


def test_an_inch_stays_as_it_was_typed(sign_in, morning):
    typed = {"lines": "rack C, 2 shelves", "heights": "15 1/2, 35", "load": "250", "do": "put-up"}
    sign_in("lead", units="us").post(NEW, typed)
    low = Place.objects.get(code="C-1")
    assert (low.as_typed["height_mm"], str(low.height_mm)) == (["15 1/2", "in"], "393.7")
    assert low.as_typed["max_load_kg"] == ["250", "lb"]


def test_one_tap_puts_up_a_place_on_the_floor_and_what_was_typed_stays(sign_in, morning):
    client = sign_in("lead")
    for code in ("BENCH-1", "BENCH-1", "OVEN", "POST-CURE", "OUT", "NONE"):
        answer = client.post(NEW, {**RACK, "floor": code})
        assert RACK["lines"] in client.get(answer.url).context["form"]["lines"].value()
    kinds = dict(Place.objects.values_list("code", "kind"))
    assert kinds == {"BENCH-1": "bench", "OVEN": "oven", "POST-CURE": "post_cure", "OUT": "outside"}
    assert [one.code for one in client.get(NEW).context["on_floor"]] == ["BENCH-2", "OVEN-2", "POST-CURE-2", "OUT-2"]


def test_shelves_without_a_rack_get_the_next_letter_and_are_shown_before_they_are_put_up(sign_in, morning):
    Place.objects.create(code="RACK-A", name="Rack A")
    Place.objects.create(code="B-1", name="Old")
    client = sign_in("lead")
    typed = {"lines": "4 shelves, five bays\nrack D\n2 benches", "do": "put-up"}
    shown = client.post(NEW, typed)
    assert shown.context["form"]["lines"].value() == "rack C, 4 shelves, five bays\nrack D\n2 benches"
    assert Place.objects.count() == 2
    named = {**typed, "lines": shown.context["form"]["lines"].value()}
    client.post(NEW, named)
    assert "C-1-3 and 22 more already" in client.post(NEW, named).text
    assert Place.objects.filter(code__startswith="C-", kind="bay").count() == 20
    twice = client.post(NEW, {"lines": "loft\nloft"}).context["form"].errors["lines"]
    assert twice == ["LOFT is meant twice in these lines."]


def test_what_was_put_up_by_mistake_is_taken_down_at_once_while_nothing_was_there(sign_in, morning):
    client = sign_in("lead")
    page = client.get(client.post(NEW, {**RACK, "do": "put-up"}).url)
    assert "Put up: RACK-C, 25 places in all." in page.text
    back = {"do": "take-down", "put": page.context["put_up"]["signed"]}
    deck = mold("DECK", morning, pulls=None, place=Place.objects.get(code="C-4-5"))
    assert "they stay" in client.get(client.post(NEW, back).url).text
    assert "Put up:" not in client.get(page.wsgi_request.get_full_path()).text
    do("change_home", deck, place=None)
    assert Place.objects.count() == 25
    Tool.objects.filter(pk=deck.pk).update(place=None)
    for said in ("Taken down: 25 places.", "Nothing was taken down"):
        assert said in client.get(client.post(NEW, back).url).text
    assert not Place.objects.exists()
    oven = client.get(client.post(NEW, {"floor": "OVEN"}).url)
    assert "By mistake: take it down" in oven.text


def test_what_a_place_is_is_said_by_its_name_and_may_be_changed(sign_in, morning):
    said = {line: [place.kind for place in meant(line)][:2] for line in ("bench 2, 1 drawer", "rack E, 2 arms", "loft")}
    assert said == {"bench 2, 1 drawer": ["bench", ""], "rack E, 2 arms": ["rack", "shelf"], "loft": [""]}
    Place.objects.create(code="LOFT", name="Loft")
    client = sign_in("lead")
    typed = {"code": "LOFT", "name": "Loft", "seen": client.get("/racks/LOFT/change/").context["form"]["seen"].value()}
    assert client.post("/racks/LOFT/change/", {**typed, "kind": "room"}).url == "/racks/LOFT/"
    assert Place.objects.get().kind == "room"
    assert client.post("/racks/LOFT/change/", {**typed, "kind": "x"}).context["form"].errors


def test_what_was_typed_is_there_again_after_signing_in(client, sign_in, morning):
    client.post(NEW, {**RACK, "do": "put-up"})
    page = sign_in("lead").get(NEW).text
    assert 'value="40, 90, 140, 190 cm"' in page
    assert "25 new places" in page
    assert not Place.objects.exists()
