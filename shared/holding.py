"""Who uses the database: servers, workers and commands hold it together, a restore has it alone or not at all.

The lock ends with who holds it, however that ends. On SQLite it is one of the operating system, on a file beside the
database. On PostgreSQL it is an advisory lock that every session of the program takes when it connects, on whatever
machine; sessions of other programs are found among those of the server.
"""

import fcntl
import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any

from django.db import DatabaseError, OperationalError, connection
from django.db.backends.base.base import BaseDatabaseWrapper
from django.utils.translation import gettext as _

from shared.errors import Refused

_KEY = (0x746F6F6C, 2)  # two numbers that this program alone uses
_OURS = """
    SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND classid = %s AND objid = %s AND granted
    AND mode = 'ExclusiveLock' AND pid = pg_backend_pid()
"""
_held: list[int] = []
_is_alone = False


class Restoring(Refused, OperationalError):
    """A restore has the database. Who connects to it is told so as by a database that does not answer."""

    def __init__(self) -> None:
        super().__init__(_("A backup is being restored into this database. Start again when that is done."))


def lock_file() -> Path:
    """Beside a SQLite file."""
    database = Path(connection.settings_dict["NAME"])
    return database.with_name(f"{database.name}.in-use")


def hold() -> None:
    """Use the database until this process ends. Raises Refused while a restore has it."""
    handle = _share()
    if handle is not None:
        _held.append(handle)
        return
    try:
        connection.ensure_connection()
    except Restoring:
        raise
    except OperationalError:
        return  # it does not answer yet: whoever connects later asks again


@contextmanager
def held() -> Iterator[None]:
    """Inside, the database is used. Raises Refused while a restore has it."""
    handle = _share()
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)


def share_session(connection: BaseDatabaseWrapper, **_more: Any) -> None:
    """A new session holds the database as long as it lasts. Raises Restoring while a restore has it."""
    if connection.vendor != "postgresql" or _is_alone:
        return
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_try_advisory_lock_shared(%s, %s)", _KEY)
        if cursor.fetchone()[0]:
            return
    connection.close()
    raise Restoring


@contextmanager
def alone() -> Iterator[None]:
    """Inside, nobody else has the database. Raises Refused where somebody does."""
    global _is_alone
    with _alone_on_sqlite() if connection.vendor == "sqlite" else _alone_on_postgresql():
        _is_alone = True
        try:
            nobody_else()
            yield
        finally:
            _is_alone = False


def nobody_else() -> None:
    """Raises Refused where another program has the database open, whatever it is."""
    if connection.vendor == "sqlite":
        _no_other_on_sqlite(Path(connection.settings_dict["NAME"]))
    else:
        _no_other_on_postgresql()


def _share() -> int | None:
    """The lock of SQLite, held; on PostgreSQL the sessions take theirs."""
    if _is_alone:
        raise Restoring
    if connection.vendor != "sqlite":
        return None
    handle = _opened()
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(handle)
        raise Restoring from None
    return handle


def _opened() -> int:
    try:
        return os.open(lock_file(), os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as bad:
        message = _("%(file)s cannot be written to: %(why)s.")
        raise Refused(message % {"file": lock_file(), "why": bad.strerror}) from bad


@contextmanager
def _alone_on_sqlite() -> Iterator[None]:
    handle = _opened()
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise _is_open() from None
        yield
    finally:
        os.close(handle)


@contextmanager
def _alone_on_postgresql() -> Iterator[None]:
    if not _soon(lambda: _one("SELECT pg_try_advisory_lock(%s, %s)", _KEY)):
        raise _is_open()
    try:
        yield
    finally:
        try:
            _one("SELECT pg_advisory_unlock(%s, %s)", _KEY)
        except DatabaseError:
            with suppress(DatabaseError):
                connection.close()


def _is_open() -> Refused:
    return Refused(_("The shop is open: a server, a worker or a command uses this database. End it first."))


def _no_other_on_sqlite(database: Path) -> None:
    """SQLite leaves its write-ahead log only for somebody who has the file alone."""
    connection.close()
    if not database.exists():
        return
    with closing(sqlite3.connect(database, timeout=0)) as file:
        try:
            is_alone = file.execute("PRAGMA journal_mode=DELETE").fetchone()[0] == "delete"
        except sqlite3.OperationalError as busy:
            if busy.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                raise
            is_alone = False
    if not is_alone:
        raise Refused(_("Another program has the file %(file)s open. End it first.") % {"file": database})


def _no_other_on_postgresql() -> None:
    if _one(_OURS, _KEY) is None:
        raise Refused(_("The connection to the database was lost in between. Begin again."))
    if not _soon(lambda: _others() == 0):
        message = _("The shop is open: %(count)s other sessions are connected to this database. End them first.")
        raise Refused(message % {"count": _others()})


def _others() -> int:
    _one("SELECT pg_stat_clear_snapshot()", ())  # within a transaction the first answer would stay
    return int(
        _one(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
            " AND backend_type = 'client backend'",
            (),
        )
    )


def _one(sql: str, values: tuple[int, ...]) -> Any:
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        row = cursor.fetchone()
    return row[0] if row else None


def _soon(is_so: Callable[[], Any]) -> bool:
    """A session that has just ended is known to the server a moment longer."""
    for _try in range(10):
        if is_so():
            return True
        time.sleep(0.1)
    return False
