"""The pictures of a tool: looked at, added by hands, arranged by leads, served as images and nothing else."""

import itertools

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from shared import patience
from shared.run import serve
from tests.shared.hostile_pictures import HOSTILE
from tests.tooling.pictures import add, sent, stored
from tests.tooling.rows import make_tool
from tests.tooling.views.works import do, mold
from tooling.models import Picture
from tooling.services.picture_files import name_of

pytestmark = pytest.mark.django_db
PAGE = "/tools/K-1/pictures/"


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def tool():
    return make_tool()


@pytest.fixture
def as_(client, request):
    def signed_in(role):
        client.force_login(request.getfixturevalue(role), backend="shared.access.RoleBackend")
        return client

    return signed_in


def change(picture):
    return reverse("change_picture", args=[picture.tool.code, picture.pk])


def file_address(digest):
    return reverse("picture_file", args=[digest])


# ---- added ----


def test_a_hand_adds_several_at_once(as_, tool, hand):
    reply = as_("hand").post(PAGE, {"files": [sent(1), sent(2), sent(3)], "caption": "on the stand"}, follow=True)
    assert reply.redirect_chain == [(PAGE, 302)]
    assert "Added: 3." in reply.text
    assert [(one.caption, one.added_by) for one in Picture.objects.on()] == [("on the stand", hand)] * 3


def test_what_would_take_too_long_is_named_and_what_was_made_stays(as_, tool, monkeypatch):
    seconds = itertools.count(step=40)
    monkeypatch.setattr(patience.time, "monotonic", lambda: next(seconds))
    text = as_("hand").post(PAGE, {"files": [sent(n) for n in range(1, 5)]}).text
    assert "Added: 2." in text
    assert text.count("Not taken in: too much was sent at once. Send this one again.") == 2
    assert Picture.objects.on().count() == 2
    assert serve.LONGEST_REQUEST > 3 * patience.MOST


def test_again_is_harmless(as_, tool):
    client = as_("hand")
    for said in ("Added: 1.", "There already: 1."):
        assert said in client.post(PAGE, {"files": [sent()]}, follow=True).text
    assert Picture.objects.count() == 1


def test_what_is_refused_is_named_and_the_others_are_in(as_, tool):
    page = SimpleUploadedFile("<b>x.jpg", b"<script>alert(1)</script>", "image/jpeg")
    reply = as_("hand").post(PAGE, {"files": [sent(1), page, SimpleUploadedFile("none.png", b"")], "caption": "bow"})
    assert reply.status_code == 200
    assert "2 files were not taken:" in reply.text
    assert "&lt;b&gt;x.jpg: This is no picture." in reply.text
    assert "none.png: The file is empty." in reply.text
    assert 'value="bow"' in reply.text
    assert Picture.objects.count() == 1


@pytest.mark.parametrize("what", [name for name in HOSTILE if "200 MB" not in name])
def test_a_hostile_file_is_refused_and_leaves_nothing(as_, tool, what):
    file = SimpleUploadedFile("IMG.jpg", HOSTILE[what].make(), "image/jpeg")
    reply = as_("hand").post(PAGE, {"files": [file]})
    assert f"IMG.jpg: {HOSTILE[what].said}" in reply.text
    assert stored() == set()
    assert not Picture.objects.exists()


def test_a_script_is_answered_file_by_file(as_, tool):
    client = as_("hand")
    good = client.post(PAGE, {"files": [sent()]}, headers={"accept": "application/json"})
    assert good.json() == {"added": 1, "there": 0, "refused": []}
    bad = client.post(PAGE, {"files": [SimpleUploadedFile("a.gif", b"GIF89a")]}, headers={"accept": "application/json"})
    assert bad.json() == {
        "added": 0, "there": 0, "refused": ["a.gif: This is a GIF. Send a JPEG, PNG or WebP picture."]
    }  # fmt: skip
    none = client.post(PAGE, {}, headers={"accept": "application/json"})
    assert none.json() == {"added": 0, "there": 0, "refused": ["Choose at least one picture."], "stop": True}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, "Choose at least one picture."),
        ({"files": "no file"}, "Choose at least one picture."),
        ({"caption": "x" * 300}, "At most 200 characters; these are 300."),
        ({"caption": "\x00"}, "A sign in it cannot be kept."),
    ],
)
def test_bad_input_is_said_and_nothing_is_kept(as_, tool, typed, said):
    reply = as_("hand").post(PAGE, {"files": [sent()], **typed} if "caption" in typed else typed)
    assert reply.status_code == 200
    assert said in reply.text
    assert not Picture.objects.exists()
    assert stored() == set()


def test_a_stranger_and_a_reader_add_nothing(as_, client, tool):
    assert client.post(PAGE, {"files": [sent()]}).url == f"/sign-in/?next={PAGE}"
    assert as_("reader").post(PAGE, {"files": [sent()]}).status_code == 403
    assert stored() == set()


def test_a_page_that_was_open_too_long_does_not_promise_to_have_kept_a_file(hand, tool):
    client = Client(enforce_csrf_checks=True)
    client.force_login(hand, backend="shared.access.RoleBackend")
    reply = client.post(PAGE, {"files": [sent()]}, headers={"origin": "http://testserver"})
    assert reply.status_code == 403
    assert "Nothing was written." in reply.text
    assert "is still here" not in reply.text
    assert stored() == set()


def test_an_old_code_leads_on_and_an_unknown_one_to_those_alike(as_, tool):
    client = as_("reader")
    assert client.get("/tools/k-1/pictures/").url == PAGE
    assert client.get("/tools/K-2/pictures/").status_code == 404
    assert client.get("/tools/%00/pictures/").status_code == 404
    assert as_("hand").post("/tools/K-2/pictures/", {"files": [sent()]}).status_code == 404


# ---- looked at ----


def test_a_reader_sees_all_with_who_and_when_and_no_button(as_, tool, lead):
    add(tool, 1, caption="from above", by=lead)
    old = add(tool, 2, caption="before the repair")
    as_("lead").post(change(old), {"do": "down"})
    text = as_("reader").get(PAGE).text
    for words in ("from above", "before the repair", "Old pictures", "Taken down", "Main picture", lead.name):
        assert words in text
    assert "<input" not in text.partition("<main")[2]
    assert change(old) not in text


def test_the_page_of_a_tool_shows_its_main_picture_instead_of_the_section(as_, tool, morning):
    mold("DECK", morning)
    client = as_("reader")
    assert 'class="draw"' in client.get("/tools/DECK/").text
    deck = mold("DECK-2", morning)
    picture = add(deck, 1, caption="from the bow")
    add(deck, 2)
    text = client.get("/tools/DECK-2/").text
    assert 'class="draw"' not in text
    assert f'src="{file_address(picture.middle)}"' in text
    assert 'alt="from the bow"' in text
    assert "2 pictures" in text
    assert "Taped off: held" not in text
    do("hold", deck, at=picture.added_at.replace(year=2026, month=5, day=12, hour=5), note="chip")
    assert "Taped off: held" in client.get("/tools/DECK-2/").text


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_pictures_as_for_one(as_, tool, count, django_assert_num_queries):
    for shade in range(count):
        add(tool, shade)
    client = as_("lead")
    with django_assert_num_queries(7):
        assert client.get(PAGE).status_code == 200


# ---- served ----


def test_a_picture_is_served_as_an_image_for_a_year(as_, tool):
    picture = add(tool)
    client = as_("reader")
    for digest in picture.digests:
        reply = client.get(file_address(digest))
        assert reply.status_code == 200
        assert reply["Content-Type"] == "image/jpeg"
        assert reply["X-Content-Type-Options"] == "nosniff"
        assert reply["Cache-Control"] == "private, max-age=31536000, immutable"
        body = b"".join(reply.streaming_content)
        assert body.startswith(b"\xff\xd8")
        assert reply["Content-Length"] == str(len(body))
        assert client.get(file_address(digest), headers={"if-none-match": reply["ETag"]}).status_code == 304


def test_a_file_is_for_those_who_are_signed_in_and_never_anything_but_an_image(client, as_, tool):
    picture = add(tool)
    address = file_address(picture.small)
    assert client.get(address).url == f"/sign-in/?next={address}"
    with open(default_storage.path(name_of(picture.small)), "wb") as file:
        file.write(b"<!DOCTYPE html><script>alert(1)</script>")
    reply = as_("reader").get(address)
    assert (reply["Content-Type"], reply["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")
    reply.close()


@pytest.mark.parametrize(
    "path", ["0" * 64 + ".jpg", "0" * 64 + ".html", "..%2f..%2fsecret_key", "0" * 63 + ".jpg", "A" * 64 + ".jpg"]
)
def test_what_is_not_stored_is_not_found(as_, path):
    assert as_("lead").get(f"/pictures/{path}").status_code == 404
