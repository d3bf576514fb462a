"""Pictures that go with a deed: the deed is written whatever they are, and a tap marks where it is."""

from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from shared import clock
from tests.shared.hostile_pictures import HOSTILE
from tests.tooling.pictures import file_of, sent
from tests.tooling.views.deeds.conftest import errors, happened
from tooling.models import Entry, Picture
from tooling.services.entry_pictures import mark, picture_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def signed_in(client, hand):
    client.force_login(hand)
    return hand


@pytest.fixture
def given(shop, signed_in):
    """A picture of a stop of a moment ago, 3 wide to 2 high."""
    stop = happened.hold(shop.mold, reason="crack")
    return picture_of(stop, file_of(1, (900, 600)), by=signed_in, at=clock.now()).picture


def tap(client, picture, **where):
    address = reverse("mark_picture", args=[picture.tool.code, picture.pk])
    answer = client.post(address, {name.replace("_", "."): value for name, value in where.items()}, follow=True)
    picture.refresh_from_db()
    return answer


def test_it_is_shown_wherever_the_stop_is(client, send, shop, signed_in):
    assert send("hold", words="crack", pictures=[sent(1), sent(2)]).url == "/tools/DECK-2A/hold/"
    stop = Entry.objects.get(kind="hold")
    assert [(one.entry, one.added_by) for one in Picture.objects.all()] == [(stop, signed_in)] * 2
    small = [f'src="{reverse("picture_file", args=[one.small])}"' for one in Picture.objects.all()]
    for page in ("/tools/DECK-2A/", "/tools/DECK-2A/looked-at/", "/tools/DECK-2A/lay-up/"):
        assert all(one in client.get(page).text for one in small), page
    gallery = client.get("/tools/DECK-2A/pictures/").text
    assert "crack" in gallery.partition("With what was written")[2]


def test_twice_with_the_same_token_is_once(send, shop, signed_in):
    token = uuid4()
    for _again in range(2):
        assert send("hold", token=token, pictures=[sent(1)]).status_code == 302
    assert (Entry.objects.filter(kind="hold").count(), Picture.objects.count()) == (1, 1)


@pytest.mark.parametrize("what", ["no picture at all", "only ever text", "as large as a house"])
def test_a_bad_picture_does_not_lose_the_deed(client, send, shop, signed_in, what):
    data = {"no picture at all": b"", "only ever text": b"not a picture", "as large as a house": None}[what]
    data = next(one for one in HOSTILE.values() if "pixels" in one.said).make() if data is None else data
    answer = send("hold", words="crack", pictures=[SimpleUploadedFile("IMG.jpg", data), sent(2)])
    assert Entry.objects.get(kind="hold").payload["reason"] == "crack"
    assert Picture.objects.count() == 1
    page = client.get(answer.url).text
    assert "It is written, but a picture is not with it. IMG.jpg:" in page
    assert 'action="/tools/DECK-2A/entries/' in page.partition("Tape a cross")[2], "where it is sent again"
    assert page.count('name="back" value="/tools/DECK-2A/hold/"') == 2, "to mark one, and to add more"


def test_what_was_chosen_is_kept_where_something_else_is_wrong(send, shop, signed_in):
    send("hold")
    answer = send("looked_at", note="hm", pictures=[sent(1), SimpleUploadedFile("x.jpg", b"none")])
    assert "The picture is kept with it." in answer.text
    assert "Choose the picture again" in answer.text, "the other one is none"
    assert not Picture.objects.exists()
    held = {"kept_pictures": answer.context["form"].held_as}
    answer = send("looked_at", **held)
    assert "The picture is kept with it." in answer.text, "and once more"
    send("looked_at", passed="no", no_pictures="on", **held)
    assert not Picture.objects.exists()
    assert errors(send("looked_at", passed="no", kept_pictures="made up")).keys() == {"pictures"}
    send("looked_at", passed="no", **held)
    assert Picture.objects.get().entry == Entry.objects.filter(kind="inspected").last()


def test_a_tap_marks_it_in_the_box_that_was_shown(client, given):
    for box, x, y in (("phone", 72, 96), ("desk", 152, 203)):
        tap(client, given, **{f"{box}_x": x, f"{box}_y": y})
        assert given.mark == (250, {"phone": 500, "desk": 501}[box])  # 405 pixels high
        tap(client, given, none="yes")
        assert given.mark is None


def test_a_field_marks_it_without_a_tap(client, given):
    answer = tap(client, given, phone_x=0, phone_y=0, field="833 167")
    assert given.mark == (833, 167)
    assert "marked: top right" in answer.text
    page = client.get("/tools/DECK-2A/").text
    assert page.count('class="mark-ring"') == page.count("marked: top right") == 2  # held, and in the history


@pytest.mark.parametrize("nonsense", [{"phone_x": "a", "phone_y": 3}, {"field": "5 5"}, {"field": "x"}, {}])
def test_nonsense_marks_nothing(client, given, nonsense):
    answer = tap(client, given, **nonsense)
    assert given.mark is None
    assert "one of the nine fields" in answer.text


def test_only_who_took_it_or_a_lead_is_asked_where(client, given, lead, reader, django_user_model):
    address = reverse("entry_pictures", args=["DECK-2A", given.entry.number])
    other = django_user_model.objects.create_person("Other hand", "hand", "long enough for a test")
    for person, asked in ((lead, True), (other, False), (reader, False)):
        client.force_login(person)
        assert ("Tap on the picture" in client.get(address).text) is asked
    assert "Add a picture" not in client.get(address).text
    client.force_login(other)
    tap(client, given, field="500 500")
    assert given.mark is None
    mark(given, (1, 1), by=lead, at=clock.now())


def test_more_come_later_and_a_station_asks_whose_hands(client, shop, hand, station):
    client.force_login(station)
    client.post("/tools/DECK-2A/hold/", {"token": str(uuid4()), "at": "now", "by": hand.pk})
    address = reverse("entry_pictures", args=["DECK-2A", Entry.objects.get(kind="hold").number])
    client.post(address, {"files": [sent(1)], "back": "/tools/DECK-2A/hold/"})
    assert Picture.objects.get().added_by == hand, "the stop of a moment ago says whose hands"
    with time_machine.travel(clock.now() + timedelta(minutes=6)):
        assert "Whose hands was it" in client.post(address, {"files": [sent(2)]}).text.replace("were", "was")
        client.post(address, {"files": [sent(2)], "by": hand.pk, "back": "https://elsewhere.example/"})
    assert Picture.objects.count() == 2
