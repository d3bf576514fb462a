"""Many tags in one file: how far it is, and that it can be left at any time."""

import errno
import os
import stat
from dataclasses import replace

import pytest
from pypdf import PdfReader

from shared.errors import Refused
from shared.paper import sheets, stocks
from tests.shared.paper.needs import pango
from tests.tooling.rows import NOON, make_tool
from tests.tooling.services.test_tag_codes import SITE
from tooling.models import Summary
from tooling.services.tags.printing import Chosen, make

pytestmark = [pytest.mark.django_db, pango]


@pytest.fixture
def chosen():
    keys = []
    for number in range(5):
        tool = make_tool(f"K-{number}")
        Summary.objects.create(tool=tool)
        keys.append(tool.pk)
    return Chosen(tools=keys)


def printed(chosen, path, **options):
    return make(chosen, path, at=NOON, stock=stocks.stock("card"), units="metric", site_url=SITE, **options)


def test_a_long_run_is_joined_from_several_documents(chosen, tmp_path, monkeypatch):
    monkeypatch.setattr(sheets, "TAGS_A_DOCUMENT", 2)
    path, told = tmp_path / "tags.pdf", []
    done = printed(chosen, path, progress=lambda *said: told.append(said[:2]))
    assert (done.tags, done.pages) == (5, 5)
    assert told == [(number, 5) for number in range(6)]
    reader = PdfReader(path)
    assert [page.extract_text().split()[0] for page in reader.pages] == [f"K-{number}" for number in range(5)]
    assert reader.metadata.title == "Tags"


def test_left_in_the_middle_it_leaves_nothing(chosen, tmp_path):
    class Enough(Exception):
        pass

    def stop(done, of, words):
        if done == 3:
            raise Enough

    with pytest.raises(Enough):
        printed(chosen, tmp_path / "tags.pdf", progress=stop)
    assert list(tmp_path.iterdir()) == []


def test_a_tool_that_is_gone_has_no_tag(chosen, tmp_path):
    done = printed(replace(chosen, tools=[*chosen.tools, 0]), tmp_path / "tags.pdf")
    assert done.tags == 5


@pytest.mark.parametrize(("held", "said"), [(False, "no tool and no place is left"), (True, "none of these")])
def test_where_nothing_is_left_the_file_that_was_there_stays(chosen, tmp_path, held, said):
    path = tmp_path / "tags.pdf"
    path.write_bytes(b"good")
    for keys in ((), (0,)):
        with pytest.raises(Refused, match=f"There is no tag to print: {said}"):
            printed(Chosen(tools=keys, held=held), path)
    assert (path.read_bytes(), list(tmp_path.iterdir())) == (b"good", [path])


def test_what_fails_while_drawing_is_not_laid_to_the_path(chosen, tmp_path, monkeypatch):
    def fail(number):
        def write(*_args, **_options):
            raise OSError(number, os.strerror(number))

        return write

    monkeypatch.setattr(sheets, "write", fail(errno.ENOENT))
    with pytest.raises(FileNotFoundError):
        printed(chosen, tmp_path / "tags.pdf")
    monkeypatch.setattr(sheets, "write", fail(errno.ENOSPC))
    with pytest.raises(Refused, match=r"tags\.pdf cannot be written: No space left"):
        printed(chosen, tmp_path / "tags.pdf")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("mask", "mode"), [(0o022, 0o644), (0o077, 0o600)])
def test_the_umask_says_who_may_read_the_file(chosen, tmp_path, mask, mode):
    path, before = tmp_path / "tags.pdf", os.umask(mask)
    try:
        printed(Chosen(tools=chosen.tools[:1]), path)
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == mode
