"""One moment of the database to read from at leisure, while people work on.

On SQLite it is a copy in a file of its own: a long reader would let the write-ahead log grow without end. On
PostgreSQL it is one transaction that only reads, on a connection of its own.
"""

import contextlib
import copy
import errno
import secrets
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import DEFAULT_DB_ALIAS, connection, connections, transaction

from shared import clock, sqlite_copy

_PREFIX = ".frozen-"
_DAY = 24 * 60 * 60


@contextlib.contextmanager
def frozen() -> Iterator[tuple[str, datetime]]:
    """The name of a connection that sees the shop as it was at one moment, and that moment."""
    now = _on_sqlite() if connection.vendor == "sqlite" else _on_postgresql()
    with now as found:
        yield found


@contextlib.contextmanager
def _on_sqlite() -> Iterator[tuple[str, datetime]]:
    folder = Path(settings.DATA_DIR)
    _sweep(folder)
    with tempfile.TemporaryDirectory(prefix=_PREFIX, dir=folder) as beside:
        target = Path(beside) / "shop.sqlite3"
        _copy(Path(connection.settings_dict["NAME"]), target)
        at = clock.now()
        with _connected(NAME=str(target), OPTIONS={"init_command": "PRAGMA query_only=ON"}) as alias:
            yield alias, at


def _copy(source: Path, target: Path) -> None:
    try:
        sqlite_copy.write(source, target)
    except sqlite3.Error as bad:
        full = bad.sqlite_errorcode & 0xFF == sqlite3.SQLITE_FULL
        raise OSError(errno.ENOSPC if full else errno.EIO, f"{source}: {bad}") from bad


@contextlib.contextmanager
def _on_postgresql() -> Iterator[tuple[str, datetime]]:
    with _connected() as alias, transaction.atomic(using=alias), connections[alias].cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        cursor.execute("SELECT 1")  # the first read decides what is seen
        yield alias, clock.now()


@contextlib.contextmanager
def _connected(**told: Any) -> Iterator[str]:
    """A connection like the shop's, under a name of its own for as long as it lasts."""
    alias = f"frozen-{secrets.token_hex(4)}"
    like = connections[DEFAULT_DB_ALIAS]
    connections[alias] = type(like)({**copy.deepcopy(like.settings_dict), **told}, alias)
    try:
        yield alias
    finally:
        connections[alias].close()
        del connections[alias]


def _sweep(folder: Path) -> None:
    """What a killed backup left."""
    for left in folder.glob(f"{_PREFIX}*"):
        if left.stat().st_mtime < time.time() - _DAY:
            shutil.rmtree(left, ignore_errors=True)
