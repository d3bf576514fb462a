"""A folder or ZIP of pictures that are named by code."""

import struct
import zipfile

import pytest
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from PIL import Image

from tests.shared import phone_pictures
from tests.tooling.pictures import file_of, stored
from tests.tooling.rows import make_tool
from tooling.models import Picture, ToolAlias
from tooling.services.picture_files import name_of

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def folder(tmp_path):
    path = tmp_path / "pictures"
    path.mkdir()
    return path


def lay(folder, *names):
    for shade, name in enumerate(names):
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(file_of(shade).read())


def run(path, capsys, **more):
    call_command("add_pictures", str(path), **more)
    return capsys.readouterr().out


def test_thirty_phone_pictures_go_in_upright_and_without_their_notes(folder, capsys):
    for code in ("DECK-2A", "12.PORT", "K3"):
        make_tool(code)
    phone_pictures.main(str(folder), "DECK-2A", "12.PORT", "K3")
    assert len(list(folder.iterdir())) == 30
    said = run(folder, capsys)
    new = Picture.objects.count()  # what is packed without loss and of one shape is the same picture once it is upright
    assert 20 < new < 30
    assert f"{new} added, {30 - new} were there already" in said
    assert {one.tool.code for one in Picture.objects.all()} == {"DECK-2A", "12.PORT", "K3"}
    for picture in Picture.objects.all():
        for digest in picture.digests:
            with default_storage.open(name_of(digest)) as file:
                assert phone_pictures.SECRET.encode() not in file.read()
                file.seek(0)
                kept = Image.open(file)
                assert phone_pictures.is_upright(kept)
                assert not kept.getexif()
    assert "0 added, 30 were there already" in run(folder, capsys)


def test_names_say_the_tool_and_the_caption(folder, capsys, hand):
    deck, hull = make_tool("DECK-2A"), make_tool("HULL")
    ToolAlias.objects.create(code="OLD 7", tool=hull)
    lay(folder, "deck-2a.jpg", "DECK-2A_2.JPG", "DECK-2A (3).jpg", "DECK-2A_front hatch.jpg", "HULL/IMG_0001.jpg",
        "OLD 7.jpg")  # fmt: skip
    (folder / ".DS_Store").write_bytes(b"x")
    (folder / "Thumbs.db").write_bytes(b"x")
    run(folder, capsys, by=hand.name.upper())
    assert {one.caption for one in deck.pictures.all()} == {"", "front hatch"}
    assert (deck.pictures.count(), hull.pictures.count()) == (4, 2)
    assert {one.added_by for one in Picture.objects.all()} == {hand}


def test_what_cannot_be_taken_is_named_and_keeps_nothing_else_out(folder, capsys):
    deck = make_tool("DECK-2A")
    lay(folder, "DECK-2A.jpg", "NO-SUCH.jpg")
    (folder / "DECK-2A_2.txt").write_text("no picture")
    with pytest.raises(CommandError, match="Not taken: 2"):
        call_command("add_pictures", str(folder))
    said = capsys.readouterr().out
    assert "NO-SUCH.jpg: No tool has the code NO-SUCH." in said
    assert "DECK-2A_2.txt: This is no picture." in said
    assert deck.pictures.count() == 1


def test_a_zip_is_taken_like_a_folder(tmp_path, capsys):
    make_tool("DECK-2A")
    path = tmp_path / "all.zip"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("pictures/DECK-2A.jpg", file_of(1).read())
        packed.writestr("DECK-2A/../../IMG.jpg", file_of(2).read())
        packed.writestr("__MACOSX/DECK-2A.jpg", b"x")
        packed.writestr("DECK-2A_huge.jpg", bytes(60 << 20), zipfile.ZIP_DEFLATED)
        packed.writestr("DECK-2A_other.jpg", file_of(3).read(), zipfile.ZIP_BZIP2)
    with pytest.raises(CommandError, match="Not taken: 3"):
        call_command("add_pictures", str(path))
    said = capsys.readouterr().out
    assert "DECK-2A_huge.jpg: The file is larger than 50 MB." in said
    assert "DECK-2A/../../IMG.jpg: Its name leads out of the folder." in said
    assert "DECK-2A_other.jpg is packed in a way that is not unpacked here." in said
    assert "1 added, 0 were there already" in said
    assert all(path.is_relative_to(tmp_path / "media") for path in stored())


def test_a_zip_that_lies_about_its_sizes_is_refused(tmp_path, capsys):
    make_tool("DECK-2A")
    path = tmp_path / "lies.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("DECK-2A.jpg", bytes(8 << 20))
    data = path.read_bytes()
    path.write_bytes(data.replace(struct.pack("<I", 8 << 20), struct.pack("<I", 100)))
    with pytest.raises(CommandError, match="Not taken: 1"):
        call_command("add_pictures", str(path))
    assert stored() == set()


def test_numbered_pictures_stand_in_the_order_of_their_numbers(folder, capsys):
    deck = make_tool("DECK-2A")
    lay(folder, "DECK-2A_10 ten.jpg", "DECK-2A_2 two.jpg", "deck-2a_1 one.jpg", "DECK-2A_003 three.jpg")
    run(folder, capsys)
    assert [one.caption for one in deck.pictures.all()] == ["1 one", "2 two", "003 three", "10 ten"]


def test_a_path_without_pictures_is_said(folder, tmp_path, capsys):
    (tmp_path / "no.zip").write_bytes(b"PK\x03\x04 not one")
    for path, said in (
        (tmp_path / "none", "no folder or ZIP"), (folder, "no picture in"), (tmp_path / "no.zip", "no ZIP that can be"),
    ):  # fmt: skip
        with pytest.raises(CommandError, match=said):
            call_command("add_pictures", str(path))
    with pytest.raises(CommandError, match="Nobody is called Nemo"):
        call_command("add_pictures", str(folder), by="Nemo")
