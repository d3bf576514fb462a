"""Pictures of many tools at once: files named by code, and a ZIP of them, on the screen."""

import bz2
import io
import itertools
import struct
import tracemalloc
import zipfile

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from shared import patience
from tests.shared import phone_pictures
from tests.tooling.pictures import file_of, sent, stored
from tests.tooling.rows import make_tool
from tooling.models import Picture
from tooling.services.picture_files import name_of
from tooling.services.picture_folder import MOST_SENT
from tooling.views import sent_pictures

pytestmark = pytest.mark.django_db
PAGE = "/pictures/"
JSON = {"accept": "application/json"}


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def page(client, hand):
    make_tool("DECK-2A")
    make_tool("12.PORT")
    client.force_login(hand, backend="shared.access.RoleBackend")
    return client


def packed(files, how=zipfile.ZIP_STORED, name="all.zip"):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", how) as made:
        for inside, data in files.items():
            made.writestr(inside, data)
    return SimpleUploadedFile(name, out.getvalue(), "application/zip")


def test_files_named_by_code_go_to_their_tools(page, hand):
    files = [sent(1, "deck-2a.jpg"), sent(2, "DECK-2A front hatch.jpg"), sent(3, "12.PORT_2.jpg")]
    reply = page.post(PAGE, {"files": files}, follow=True)
    assert reply.redirect_chain == [(PAGE, 302)]
    assert "Added: 3." in reply.text
    assert {(one.tool.code, one.caption) for one in Picture.objects.all()} == {
        ("DECK-2A", ""), ("DECK-2A", "front hatch"), ("12.PORT", ""),
    }  # fmt: skip
    assert {one.added_by for one in Picture.objects.all()} == {hand}
    again = [sent(1, "DECK-2A.jpg")]
    assert "There already: 1." in page.post(PAGE, {"files": again}, follow=True).text


def test_a_zip_of_thirty_phone_pictures_goes_in_upright_and_without_their_notes(page, tmp_path):
    phone_pictures.main(str(tmp_path / "phone"), "DECK-2A", "12.PORT")
    files = {f"from phone/{path.name}": path.read_bytes() for path in (tmp_path / "phone").iterdir()}
    said = page.post(PAGE, {"files": [packed(files)]}, headers=JSON).json()
    new = Picture.objects.count()  # of what is packed without loss some are the same once they are upright
    assert said == {"added": new, "there": 30 - new, "refused": []}
    assert new > 20
    for digest in {digest for one in Picture.objects.all() for digest in one.digests}:
        with default_storage.open(name_of(digest)) as file:
            assert phone_pictures.SECRET.encode() not in file.read()
            kept = Image.open(file)
            assert phone_pictures.is_upright(kept)
            assert not kept.getexif()


def test_the_folder_that_a_file_lay_in_says_its_tool(page):
    reply = page.post(PAGE, {"files": [sent(1, "IMG_1.jpg")], "inside": "phone/DECK-2A/IMG_1.jpg"}, headers=JSON)
    assert reply.json() == {"added": 1, "there": 0, "refused": []}
    odd = page.post(PAGE, {"files": [sent(2, "IMG_2.jpg")], "inside": "../../etc/\u202e/x"}, headers=JSON)
    assert odd.json()["refused"] == [
        "\u202e/IMG_2.jpg: No tool has the code IMG. Name the file by the code of its tool."
    ]


def test_what_cannot_be_taken_is_named_beside_what_went_in(page):
    files = {"DECK-2A.jpg": file_of(1).read(), "NO-SUCH.jpg": file_of(2).read(), "DECK-2A_3.jpg": b"<script>"}
    huge = packed({"DECK-2A_4.jpg": bytes(51 << 20)}, zipfile.ZIP_DEFLATED, "huge.zip")
    reply = page.post(PAGE, {"files": [packed(files), huge, SimpleUploadedFile("DECK-2A_5.jpg", b"")]})
    assert reply.status_code == 200
    assert "4 files were not taken:" in reply.text
    for said in (
        "NO-SUCH.jpg: No tool has the code NO-SUCH.", "DECK-2A_3.jpg: This is no picture.",
        "DECK-2A_4.jpg: The file is larger than 50 MB.", "DECK-2A_5.jpg: The file is empty.", "Added: 1.",
    ):  # fmt: skip
        assert said in reply.text
    assert Picture.objects.count() == 1
    assert len(stored()) == 1


def test_the_same_twice_in_one_zip_is_one_picture(page):
    data = file_of(1).read()
    sent_zip = packed({"DECK-2A_1.jpg": data, "DECK-2A_2.jpg": data, "../DECK-2A.jpg": data, "IMG_0001.jpg": data})
    said = page.post(PAGE, {"files": [sent_zip]}, headers=JSON).json()
    assert (said["added"], said["there"]) == (1, 1)
    assert said["refused"] == [
        "../DECK-2A.jpg: Its name leads out of the folder.",
        "IMG_0001.jpg: No tool has the code IMG. Name the file by the code of its tool.",
    ]
    assert Picture.objects.count() == 1


def test_patience_ends_within_a_zip_as_well(page, monkeypatch):
    seconds = itertools.count(step=40)
    monkeypatch.setattr(patience.time, "monotonic", lambda: next(seconds))
    files = {f"DECK-2A_{n}.jpg": file_of(n).read() for n in range(1, 5)}
    said = page.post(PAGE, {"files": [packed(files)]}, headers=JSON).json()
    assert (said["added"], len(said["refused"])) == (1, 3)
    assert said["refused"][0].startswith("DECK-2A_2.jpg: Not taken in: too much was sent at once.")


def raw_zip(method, data, length, version=46, name=b"DECK-2A.jpg"):
    """A ZIP of one file that says about itself what it likes."""
    about = struct.pack("<HHHHIIIHH", 0, method, 0, 0x21, 0, len(data), length, len(name), 0)
    local = b"PK\3\4" + struct.pack("<H", version) + about + name
    listed = b"PK\1\2" + struct.pack("<HH", version, version) + about + struct.pack("<HHHLL", 0, 0, 0, 0, 0) + name
    end = struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, 1, 1, len(listed), len(local) + len(data), 0)
    return SimpleUploadedFile("odd.zip", local + data + listed + end)


def bzip2_bomb():
    """Less than a thousand bytes that unpack to 200 MB, whatever length is said."""
    pack = bz2.BZ2Compressor()
    return b"".join([*(pack.compress(bytes(10 << 20)) for _ in range(20)), pack.flush()])


WAY = "is packed in a way that is not unpacked here."


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: raw_zip(12, bzip2_bomb(), 1 << 20), f"DECK-2A.jpg {WAY}"),
        (
            lambda: raw_zip(14, b"\x09\x04\x05\x00\x5d\x00\x00\x10\x00" + bytes(range(256)), 1 << 20),
            f"DECK-2A.jpg {WAY}",
        ),
        (lambda: raw_zip(0, b"abc", 3, version=99), f"odd.zip {WAY}"),
    ],
    ids=["bzip2", "broken LZMA", "version 9.9"],
)
def test_a_zip_of_another_kind_is_named_and_keeps_nothing_else_out(page, make, said):
    odd = make()
    tracemalloc.start()
    reply = page.post(PAGE, {"files": [odd, sent(1, "12.PORT.jpg")]})
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 50 << 20
    assert said in reply.text
    assert "Added: 1." in reply.text
    assert Picture.objects.get().tool.code == "12.PORT"


def test_more_than_may_be_sent_at_once_are_named_and_the_others_are_in(page, monkeypatch):
    monkeypatch.setattr(sent_pictures, "MOST_FILES", 2)
    text = page.post(PAGE, {"files": [sent(n, f"DECK-2A_{n}.jpg") for n in range(1, 5)]}).text
    assert "Added: 2." in text
    for name in ("DECK-2A_3.jpg", "DECK-2A_4.jpg"):
        assert f"{name}: Not taken in: no more than 2 at once. Send this one again." in text


def test_far_too_many_files_get_a_sentence_with_the_number(page, settings):
    assert settings.DATA_UPLOAD_MAX_NUMBER_FILES > patience.MOST_FILES
    files = [SimpleUploadedFile(f"{n}.jpg", b"x") for n in range(settings.DATA_UPLOAD_MAX_NUMBER_FILES + 1)]
    reply = page.post(PAGE, {"files": files})
    assert reply.status_code == 400
    assert f"Send up to {patience.MOST_FILES}." in reply.text
    assert f"Up to {patience.MOST_FILES} at once." in page.get(PAGE).text


def with_long_list(large=False):
    """A ZIP whose end says that the list of what is in it is of 100 MB."""
    end = struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, 9, 9, 0xFFFFFFFF if large else 100 << 20, 4, 0)
    if large:
        end = struct.pack("<4sQ2H2L4Q", b"PK\6\6", 44, 45, 45, 0, 0, 9, 9, 100 << 20, 4) + (
            struct.pack("<4sLQL", b"PK\6\7", 0, 4, 1) + end
        )
    return SimpleUploadedFile("list.zip", b"PK\3\4" + b"PK\1\2" * 9000 + end)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: SimpleUploadedFile("no.zip", b"PK\3\4 not one"), "no.zip is no ZIP that can be read."),
        (lambda: packed({}), "all.zip: There is no picture in all.zip."),
        (lambda: packed({f"DECK-2A_{i}.jpg": b"x" for i in range(MOST_SENT + 1)}), "holds more than 60 pictures"),
        (with_long_list, "list.zip holds more than 20000 files."),
        (lambda: with_long_list(large=True), "list.zip holds more than 20000 files."),
        (lambda: packed({"DECK-2A.zip": packed({"DECK-2A.jpg": b"x"}).read()}), "DECK-2A.zip: This is no picture."),
    ],
)
def test_a_hostile_zip_is_refused_and_leaves_nothing(page, make, said):
    file = make()
    tracemalloc.start()
    reply = page.post(PAGE, {"files": [file]})
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert said in reply.text
    assert peak < 50 << 20
    assert not Picture.objects.exists()
    assert stored() == set()


def test_nothing_chosen_is_said(page):
    for typed in ({}, {"files": "words"}, {"inside": "\x00", "files": [sent()]}):
        assert page.post(PAGE, typed).status_code == 200
        assert not Picture.objects.exists()
    assert page.post(PAGE, {}, headers=JSON).json()["refused"] == ["Choose at least one picture or a ZIP."]


def test_a_reader_and_a_stranger_send_nothing(client, reader):
    assert client.post(PAGE, {"files": [sent()]}).url == f"/sign-in/?next={PAGE}"
    client.force_login(reader, backend="shared.access.RoleBackend")
    assert client.post(PAGE, {"files": [sent()]}).status_code == 403
    assert stored() == set()
