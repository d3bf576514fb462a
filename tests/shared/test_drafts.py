"""Files while they are written: what a killed process left goes, what somebody writes stays."""

import os
import stat

import pytest

from shared import drafts

LONG_AGO = (1, 1)


def test_a_draft_is_its_owners_alone_and_gone_at_the_end(tmp_path):
    with drafts.beside(tmp_path / "shop.zip") as (draft, file):
        file.write(b"rows")
        assert stat.S_IMODE(draft.stat().st_mode) == 0o600
    assert not list(tmp_path.iterdir())
    with pytest.raises(RuntimeError), drafts.beside(tmp_path / "shop.zip"):
        raise RuntimeError
    assert not list(tmp_path.iterdir())


def test_what_is_being_written_is_not_swept_and_what_was_left_is(tmp_path):
    left, young = tmp_path / ".shop.zip.0badcafe.part", tmp_path / ".shop.zip.00000000.part"
    other = tmp_path / "somebody-elses.txt"
    for path in (left, young, other):
        path.write_bytes(b"rows")
    for path in (left, other):
        os.utime(path, LONG_AGO)
    with drafts.beside(tmp_path / "shop.zip") as (draft, _file):
        os.utime(draft, LONG_AGO)
        drafts.sweep(tmp_path, ".shop.zip.*.part")
        assert set(tmp_path.iterdir()) == {draft, young, other}
