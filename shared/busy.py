"""A database into which something else writes for longer than a deed waits: that is no fault, and is said as such."""

import sqlite3
from collections.abc import Callable

from django.db import OperationalError

# Seconds after which it is worth sending again.
RETRY_AFTER = 5
# SQLite's extended codes carry these in their last byte. PostgreSQL: no serial order, deadlock, no lock in time.
_SQLITE = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
_POSTGRESQL = ("40001", "40P01", "55P03")

# Each says what long work goes on, or "". The apps put theirs in.
at_work: list[Callable[[], str]] = []


def is_busy(error: Exception) -> bool:
    """Whether a deed was not written because something else was writing, and nothing is broken."""
    cause = error.__cause__ if isinstance(error, OperationalError) else None
    code = getattr(cause, "sqlite_errorcode", None)
    return (code is not None and code & 0xFF in _SQLITE) or getattr(cause, "sqlstate", None) in _POSTGRESQL


def with_what() -> str:
    """What the database is busy with, in words; "" where nobody knows."""
    return next(filter(None, (says() for says in at_work)), "")
