"""Pictures are added once, put in order, replaced and taken down; none is lost, and no file is left over."""

import hashlib
import io
import os
from datetime import timedelta

import pytest
from django.core.files.storage import FileSystemStorage, default_storage
from django.core.management import CommandError, call_command
from django.utils import timezone

from shared.errors import Refused
from tests.shared.hostile_pictures import HOSTILE
from tests.tooling.pictures import add, file_of, stored
from tests.tooling.rows import NOON, make_tool
from tooling.models import Picture
from tooling.selectors.pictures import gallery, mains
from tooling.services import picture_files
from tooling.services.pictures import (
    add_picture,
    make_main,
    move,
    put_back,
    replace_picture,
    set_caption,
    take_down,
)

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(hours=1)


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def tool():
    return make_tool()


@pytest.fixture
def three(tool):
    return [add(tool, shade) for shade in (1, 2, 3)]


def order(tool):
    return [one.pk for one in Picture.objects.on().filter(tool=tool)]


def test_each_file_is_stored_under_the_hash_of_what_is_in_it(tool, hand):
    picture = add_picture(tool, file_of(size=(2000, 1000)), by=hand, at=NOON, caption="  at the   bow ").picture
    assert (picture.width, picture.height, picture.caption) == (1600, 800, "at the bow")
    assert (picture.added_by, picture.added_at, picture.main, picture.position) == (hand, NOON, True, 1)
    assert len(set(picture.digests)) == 3
    for digest in picture.digests:
        with default_storage.open(picture_files.name_of(digest)) as file:
            assert hashlib.sha256(file.read()).hexdigest() == digest
    assert len(stored()) == 3


def test_the_first_is_the_main_one_and_the_others_follow(tool, three):
    assert order(tool) == [one.pk for one in three]
    assert [one.main for one in Picture.objects.on()] == [True, False, False]


def test_the_same_picture_again_is_the_one_there(tool, three):
    assert add_picture(tool, file_of(2), by=None, at=NOON) == (three[1], False)
    assert Picture.objects.count() == 3
    other = make_tool("K-2")
    assert add(other, 2).large == three[1].large
    assert len(stored()) == 3


def test_order_main_and_caption(tool, three, lead):
    a, b, c = three
    move(c, by=-1)
    assert order(tool) == [a.pk, c.pk, b.pk]
    move(a, by=-1)
    move(a, by=9)
    assert order(tool) == [c.pk, b.pk, a.pk]
    make_main(b)
    assert [one.pk for one in Picture.objects.filter(main=True)] == [b.pk]
    set_caption(b, " from  aft ", by=lead, at=LATER)
    set_caption(b, "from aft", by=lead, at=LATER)
    b.refresh_from_db()
    assert b.caption == "from aft"
    kept = tool.changes.get()
    assert (kept.who, kept.at, kept.field, kept.before, kept.after) == (lead, LATER, "caption", "", "from aft")
    assert mains([tool.pk]) == {tool.pk: b}


def test_a_replaced_picture_stays_among_the_old_ones(tool, three, lead):
    a, b, _c = three
    set_caption(a, "from above", by=lead, at=NOON)
    new = replace_picture(a, file_of(9), by=lead, at=LATER)
    assert (new.main, new.position, new.caption, new.replaces) == (True, 1, "from above", a)
    assert order(tool)[0] == new.pk
    old = gallery(tool).old
    assert [(one.picture.pk, one.replaced) for one in old] == [(a.pk, True)]
    assert (old[0].picture.taken_down_by, old[0].picture.taken_down_at) == (lead, LATER)
    with pytest.raises(Refused, match="there already"):
        replace_picture(b, file_of(9), by=lead, at=LATER)
    with pytest.raises(Refused, match="taken down meanwhile"):
        replace_picture(a, file_of(8), by=lead, at=LATER)


def test_one_taken_down_hands_on_the_main_place_and_can_be_put_back(tool, three, lead):
    a, b, _c = three
    take_down(a, by=lead, at=LATER)
    b.refresh_from_db()
    assert b.main
    assert [one.picture.pk for one in gallery(tool).old] == [a.pk]
    for forbidden in (make_main, lambda one: move(one, by=1), lambda one: set_caption(one, "x", by=lead, at=LATER)):
        with pytest.raises(Refused):
            forbidden(a)
    a.refresh_from_db()
    put_back(a, by=lead, at=LATER)
    assert order(tool)[-1] == a.pk
    kept = tool.changes.get()
    assert (kept.who, kept.at, kept.field, kept.before, kept.after) == (lead, LATER, "picture", "down", "back")
    with pytest.raises(Refused, match="there already"):
        put_back(a, by=lead, at=LATER)
    assert len(stored()) == 3


def test_the_last_one_taken_down_and_put_back_is_the_main_one_again(tool, lead):
    one = add(tool)
    take_down(one, by=lead, at=LATER)
    assert mains([tool.pk]) == {}
    one.refresh_from_db()
    put_back(one, by=lead, at=LATER)
    assert mains([tool.pk]) == {tool.pk: one}


@pytest.mark.parametrize("what", HOSTILE)
def test_what_is_refused_leaves_nothing_behind(tool, what, tmp_path):
    with HOSTILE[what].write(tmp_path / "IMG.jpg").open("rb") as file, pytest.raises(Refused):
        add_picture(tool, file, by=None, at=NOON)
    assert stored() == set()
    assert not Picture.objects.exists()


def test_a_file_is_there_before_the_row_and_a_row_that_fails_leaves_it_to_the_sweeper(tool, monkeypatch):
    def fails(**columns):
        assert len(stored()) == 1
        raise RuntimeError("the power went")

    monkeypatch.setattr(Picture.objects, "create", fails)
    with pytest.raises(RuntimeError):
        add(tool)
    assert len(stored()) == 1  # too small for three
    swept = picture_files.sweep(NOON + timedelta(days=10_000))
    assert len(swept.removed) == 1
    assert stored() == set()


def test_a_write_that_breaks_off_leaves_no_half_file(tool, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("shared.whole_files.os.fsync", full)
    with pytest.raises(OSError, match="No space"):
        add(tool)
    assert stored() == set()


def test_the_sweeper_keeps_what_is_young_named_or_old_but_replaced(tool, three, lead, capsys):
    replace_picture(three[0], file_of(9), by=lead, at=LATER)
    orphan = picture_files.put(b"nobody's")
    call_command("sweep_pictures")
    assert "0 removed" in capsys.readouterr().out
    much_later = NOON + timedelta(days=10_000)
    assert picture_files.sweep(much_later, dry_run=True).removed == [picture_files.name_of(orphan)]
    assert picture_files.sweep(much_later).removed == [picture_files.name_of(orphan)]
    assert len(stored()) == 4
    default_storage.delete(picture_files.name_of(three[1].small))
    with pytest.raises(CommandError, match=three[1].small):
        call_command("sweep_pictures")


def test_a_storage_that_never_writes_over_keeps_the_name(tool, settings):
    settings.STORAGES = {**settings.STORAGES, "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"}}
    assert add(tool).large == add(make_tool("K-2")).large
    assert len(stored()) == 1
    Picture.objects.all().delete()
    assert len(picture_files.sweep(NOON + timedelta(days=10_000)).removed) == 1
    assert stored() == set()


@pytest.mark.parametrize("backend", ["shared.whole_files.WholeFiles", "django.core.files.storage.FileSystemStorage"])
def test_what_is_stored_again_while_the_sweeper_looks_is_not_lost(tool, settings, monkeypatch, backend):
    """A picture comes in between the look at the age of its file, which nobody needed, and its removal."""
    settings.STORAGES = {**settings.STORAGES, "default": {"BACKEND": backend}}
    name = picture_files.name_of(add(tool).large)
    Picture.objects.all().delete()
    os.utime(default_storage.path(name), (0, 0))
    looks = FileSystemStorage.get_modified_time

    def looked(storage, asked):
        age = looks(storage, asked)
        add(tool)
        return age

    monkeypatch.setattr(FileSystemStorage, "get_modified_time", looked)
    assert picture_files.sweep(timezone.now()).removed == []
    assert [path.name for path in stored()] == [name.rpartition("/")[2]]
    assert Picture.objects.get().large in name


def test_one_query_for_the_main_pictures_of_a_list(tool, three, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert mains([tool.pk, 999])[tool.pk] == three[0]


def test_a_broken_stream_is_refused():
    with pytest.raises(Refused):
        add_picture(make_tool("K-9"), io.BytesIO(b""), by=None, at=NOON)
