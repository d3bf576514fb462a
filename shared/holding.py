"""Who uses the database: servers and workers hold it together, a restore has it alone or not at all.

The lock is one of the operating system, on a file beside the database: it ends with the process, however that ends. It
knows the processes of this machine. What comes over the network to PostgreSQL is found among the server's sessions.
"""

import fcntl
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.utils.translation import gettext as _

from shared.errors import Refused

_held: list[int] = []


def lock_file() -> Path:
    """Beside a SQLite file; for a database elsewhere in DATA_DIR."""
    if connection.vendor == "sqlite":
        database = Path(connection.settings_dict["NAME"])
        return database.with_name(f"{database.name}.in-use")
    return Path(settings.DATA_DIR) / "database.in-use"


def hold() -> None:
    """Use the database until this process ends. Raises Refused while a restore has it."""
    handle = _opened()
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(handle)
        raise Refused(_("A backup is being restored into this database. Start again when that is done.")) from None
    _held.append(handle)


@contextmanager
def alone() -> Iterator[None]:
    """Inside, nobody else has the database. Raises Refused where somebody does."""
    handle = _opened()
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise Refused(_("The shop is open: a server or a worker uses this database. End it first.")) from None
        nobody_else()
        yield
    finally:
        os.close(handle)


def nobody_else() -> None:
    """Raises Refused where another program has the database open, whatever it is."""
    if connection.vendor == "sqlite":
        _no_other_on_sqlite(Path(connection.settings_dict["NAME"]))
    else:
        _no_other_on_postgresql()


def _opened() -> int:
    return os.open(lock_file(), os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)


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
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
            " AND backend_type = 'client backend'"
        )
        others = cursor.fetchone()[0]
    if others:
        message = _("The shop is open: %(count)s other sessions are connected to this database. End them first.")
        raise Refused(message % {"count": others})
