"""The quick copy that a second start makes."""

import contextlib
import sqlite3
import stat

import pytest

from shared.sqlite_copy import copy


@pytest.fixture
def shop(tmp_path):
    """A database in use: what was committed last is still in its write-ahead log."""
    path = tmp_path / "a #shop?.sqlite3"
    with contextlib.closing(sqlite3.connect(path)) as database:
        database.execute("PRAGMA journal_mode=WAL")
        database.execute("CREATE TABLE pull (at TEXT)")
        database.execute("INSERT INTO pull VALUES ('today')")
        database.commit()
        (tmp_path / "backups").mkdir()
        yield path


def test_a_copy_holds_what_was_committed_and_is_its_owners_alone(shop, tmp_path):
    target = copy(shop, tmp_path / "backups")
    with contextlib.closing(sqlite3.connect(target)) as copied:
        assert copied.execute("SELECT at FROM pull").fetchall() == [("today",)]
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert list(target.parent.iterdir()) == [target]


def test_the_newest_ten_stay(shop, tmp_path):
    targets = [copy(shop, tmp_path / "backups") for _ in range(12)]
    assert sorted((tmp_path / "backups").iterdir()) == targets[2:]


def test_a_damaged_database_is_not_copied(tmp_path):
    path = tmp_path / "shop.sqlite3"
    path.write_bytes(b"not a database" * 1000)
    (tmp_path / "backups").mkdir()
    with pytest.raises(sqlite3.DatabaseError):
        copy(path, tmp_path / "backups")
    assert list((tmp_path / "backups").iterdir()) == []
