"""The pictures of a tool are arranged by leads; a hand takes its own back for five minutes; a station asks whose."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from shared import clock
from tests.tooling.pictures import add, sent, stored
from tests.tooling.rows import make_tool
from tests.tooling.views.test_pictures import PAGE, as_, change, file_address, media, tool
from tooling.models import Picture
from tooling.words.about import changed

__all__ = ["as_", "media", "tool"]
pytestmark = [pytest.mark.django_db, pytest.mark.both]


def test_a_lead_arranges_them(as_, tool):
    a, b, c = (add(tool, shade) for shade in (1, 2, 3))
    client = as_("lead")
    assert client.post(change(c), {"do": "main"}).url == f"{PAGE}#pictures"
    client.post(change(c), {"do": "earlier"})
    client.post(change(a), {"do": "later"})
    assert [one.pk for one in Picture.objects.on()] == [c.pk, a.pk, b.pk]
    assert Picture.objects.get(main=True) == c
    client.post(change(b), {"do": "caption", "caption": "from aft"})
    assert Picture.objects.get(pk=b.pk).caption == "from aft"
    client.post(change(b), {"do": "down"})
    assert "Put back" in client.get(change(b)).text
    client.post(change(b), {"do": "back"})
    assert Picture.objects.on().count() == 3
    said = [changed(one, "metric") for one in tool.changes.order_by("pk")]
    assert [(one.what, one.before, one.after) for one in said] == [
        ("Caption of a picture", "", "from aft"), ("Picture", "taken down", "put back"),
    ]  # fmt: skip


def test_a_lead_replaces_one_and_the_old_one_stays_to_be_seen(as_, tool):
    old = add(tool, 1, caption="from above")
    client = as_("lead")
    assert client.post(change(old), {"do": "replace", "file": sent(2)}).status_code == 302
    text = client.get(PAGE).text
    assert "Replaced" in text
    assert file_address(old.large) in text
    assert client.get(file_address(old.large)).status_code == 200


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, "Keep this caption"),
        ({"do": "nonsense"}, "Keep this caption"),
        ({"do": "caption", "caption": "x" * 300}, "At most 200 characters"),
        ({"do": "replace"}, "Choose a picture."),
        ({"do": "back"}, "This picture is there already."),
    ],
)
def test_a_change_that_cannot_be_is_said(as_, tool, typed, said):
    picture = add(tool, caption="as it was")
    before = Picture.objects.values().get()
    reply = as_("lead").post(change(picture), typed)
    assert reply.status_code == 200
    assert said in reply.text
    assert Picture.objects.values().get() == before


def test_a_replacement_that_is_no_picture_is_refused(as_, tool):
    picture = add(tool)
    files = stored()
    reply = as_("lead").post(change(picture), {"do": "replace", "file": SimpleUploadedFile("x.jpg", b"")})
    assert "The file is empty." in reply.text
    assert stored() == files
    assert Picture.objects.get().taken_down_at is None


def test_one_of_another_tool_or_none_is_not_found(as_, tool):
    picture = add(make_tool("K-2"))
    client = as_("lead")
    assert client.get(f"{PAGE}{picture.pk}/").status_code == 404
    assert client.get(f"{PAGE}99999/").status_code == 404
    own = add(tool)
    assert client.get(f"/tools/k-1/pictures/{own.pk}/").url == change(own)
    assert client.post(f"/tools/k-1/pictures/{own.pk}/", {"do": "down"}).url == f"{PAGE}#pictures"


@pytest.mark.parametrize("role", ["reader", "hand", "station"])
def test_only_a_lead_arranges(as_, tool, role):
    picture = add(tool)
    client = as_(role)
    assert client.get(change(picture)).status_code == 403
    assert client.post(change(picture), {"do": "down"}).status_code == 403
    assert Picture.objects.get().main


def test_a_get_changes_nothing(as_, tool):
    picture = add(tool)
    as_("lead").get(change(picture), {"do": "down"})
    assert Picture.objects.on().count() == 1


# ---- taken back ----


def test_a_hand_rubs_its_own_out_and_captions_it_for_five_minutes(as_, tool, hand, lead):
    client = as_("hand")
    client.post(PAGE, {"files": [sent(1), sent(2)]})
    one, two = Picture.objects.on()
    assert "Rub it out" in client.get(PAGE).text
    assert "Replace it" not in client.get(change(one)).text
    client.post(change(one), {"do": "caption", "caption": "the chip"})
    assert Picture.objects.get(pk=one.pk).caption == "the chip"
    assert client.post(change(two), {"do": "down"}).status_code == 403
    assert client.post(change(two), {"do": "rub"}).url == f"{PAGE}#pictures"
    two.refresh_from_db()
    assert two.taken_down_by == hand
    assert client.post(change(add(tool, 3, by=lead)), {"do": "rub"}).status_code == 403
    with clock.set_to(one.added_at + timedelta(minutes=6)):
        assert "Rub it out" not in client.get(PAGE).text
        reply = client.post(change(one), {"do": "rub"}, follow=True)
    assert "Five minutes after adding only a lead changes a picture." in reply.text
    one.refresh_from_db()
    assert one.taken_down_at is None


@pytest.mark.parametrize("page", [PAGE, "/pictures/"])
def test_a_station_says_whose_hands_took_it(as_, tool, hand, station, page):
    client = as_("station")
    assert "Whose hands?" in client.get(page).text
    reply = client.post(page, {"files": [sent(name="K-1.jpg")]})
    assert "Whose hands were it?" in reply.text
    assert stored() == set()
    json = client.post(page, {"files": [sent()]}, headers={"accept": "application/json"}).json()
    assert (json["refused"], json["stop"]) == (["Whose hands were it?"], True)
    client.post(page, {"files": [sent(name="K-1.jpg")], "by": hand.pk})
    picture = Picture.objects.get()
    assert (picture.added_by, picture.recorded_by) == (hand, station)
    client.post(change(picture), {"do": "rub"})
    assert not Picture.objects.exclude(taken_down_at=None).exists()
    client.post(change(picture), {"do": "rub", "by": hand.pk})
    picture.refresh_from_db()
    assert picture.taken_down_by == hand
