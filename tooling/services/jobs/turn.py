"""Whose turn it is: one worker at a time, known by a lock that ends with the process that holds it.

On SQLite it is a lock on a file under DATA_DIR, on PostgreSQL an advisory lock of the database. A job that is said to
be at work while nobody holds the lock was interrupted.
"""

import contextlib
import fcntl
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from django.db import DatabaseError, Error, connection, connections
from django.db.backends.base.base import BaseDatabaseWrapper

from tooling.services.jobs.files import jobs_folder

_KEY = (0x746F6F6C, 1)  # two numbers that this program alone uses
_HELD = """
    SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND classid = %s AND objid = %s AND granted
    AND database = (SELECT oid FROM pg_database WHERE datname = current_database())
"""


IsKept = Callable[[], bool]


@contextmanager
def taken() -> Iterator[IsKept | None]:
    """Takes the turn, where it is free: inside, what says whether this process still has it; None where it is not."""
    with _taken_in_postgresql() if connection.vendor == "postgresql" else _taken_by_file() as is_kept:
        yield is_kept


def is_taken() -> bool:
    """Whether a worker is there."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(_HELD, _KEY)
            return cursor.fetchone() is not None
    with contextlib.suppress(FileNotFoundError), _lock_file().open("rb") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
    return False


def _lock_file() -> Path:
    return jobs_folder() / "turn.lock"


@contextmanager
def _taken_by_file() -> Iterator[IsKept | None]:
    jobs_folder().mkdir(mode=0o700, parents=True, exist_ok=True)
    with _lock_file().open("ab") as file:
        yield (lambda: True) if _locked(file) else None


def _locked(file: IO[bytes]) -> bool:
    """Whether it is ours now. A page that looks whether somebody works holds it for an instant: try a few times."""
    for _try in range(5):
        with contextlib.suppress(BlockingIOError):
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return True
        time.sleep(0.05)
    return False


@contextmanager
def _taken_in_postgresql() -> Iterator[IsKept | None]:
    own, is_ours = connections.create_connection(connection.alias), False
    try:
        with own.cursor() as cursor:
            cursor.execute("SELECT pg_try_advisory_lock(%s, %s)", _KEY)
            is_ours = bool(cursor.fetchone()[0])
        yield (lambda: _answers(own)) if is_ours else None
    finally:
        # Given back by name: that the connection has ended the server notices a little later.
        with contextlib.suppress(Error):
            if is_ours:
                own.cursor().execute("SELECT pg_advisory_unlock(%s, %s)", _KEY)
        own.close()


def _answers(own: BaseDatabaseWrapper) -> bool:
    """The lock is there as long as its session: one that was lost, and with it the turn, no longer answers."""
    try:
        with own.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return False
    return True
