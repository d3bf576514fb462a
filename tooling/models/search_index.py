"""The index under the search: trigrams, so that any three letters of a word find it.

SQLite keeps them in a table of FTS5 that triggers hold level with the words; PostgreSQL in an index of pg_trgm. Both
are laid by a migration and again after every `migrate`: SQLite loses the triggers when it rebuilds the table, and on
PostgreSQL the extension may come later. Without it the same is found, more slowly.
"""

from typing import Any

from django.core.checks import CheckMessage, Error, Tags, Warning, register
from django.db import DatabaseError, connections, transaction
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models.signals import post_migrate
from django.dispatch import receiver

TABLE = "tooling_searchtext"
FTS = "tooling_search_fts"
COLUMNS = ("text", "codes")

_TAKE_OUT = f"INSERT INTO {FTS} ({FTS}, rowid, text, codes) VALUES ('delete', old.tool_id, old.text, old.codes);"  # noqa: S608
_PUT_IN = f"INSERT INTO {FTS} (rowid, text, codes) VALUES (new.tool_id, new.text, new.codes);"  # noqa: S608
_SQLITE = {
    FTS: f"CREATE VIRTUAL TABLE {FTS} USING fts5("
    f"text, codes, content='{TABLE}', content_rowid='tool_id', tokenize='trigram')",
    f"{FTS}_in": f"CREATE TRIGGER {FTS}_in AFTER INSERT ON {TABLE} BEGIN {_PUT_IN} END",
    f"{FTS}_out": f"CREATE TRIGGER {FTS}_out AFTER DELETE ON {TABLE} BEGIN {_TAKE_OUT} END",
    f"{FTS}_anew": f"CREATE TRIGGER {FTS}_anew AFTER UPDATE ON {TABLE} BEGIN {_TAKE_OUT} {_PUT_IN} END",
}
_POSTGRES = {
    f"{TABLE}_{column}_trgm": f"CREATE INDEX {TABLE}_{column}_trgm ON {TABLE} USING gin ({column} gin_trgm_ops)"
    for column in COLUMNS
}


def missing(connection: BaseDatabaseWrapper) -> list[str]:
    """The names of what the search rests on and is not there. A table that does not exist wants nothing."""
    wanted = _SQLITE if connection.vendor == "sqlite" else _POSTGRES
    with connection.cursor() as cursor:
        if TABLE not in connection.introspection.table_names(cursor):
            return []
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name, sql FROM sqlite_master")
            there = {name for name, sql in cursor.fetchall() if sql == wanted.get(name)}
        else:
            cursor.execute("SELECT indexname FROM pg_indexes WHERE tablename = %s", [TABLE])
            there = {name for (name,) in cursor.fetchall()}
    return [name for name in wanted if name not in there]


def lay(connection: BaseDatabaseWrapper) -> None:
    """Create what is missing; on PostgreSQL only where the extension is there or may be made."""
    names = missing(connection)
    if not names:
        return
    if connection.vendor == "postgresql":
        if _has_trigrams(connection):
            with connection.cursor() as cursor:
                for name in names:
                    cursor.execute(_POSTGRES[name])
        return
    lift(connection)
    with connection.cursor() as cursor:
        for sql in _SQLITE.values():
            cursor.execute(sql)
        cursor.execute(f"INSERT INTO {FTS} ({FTS}) VALUES ('rebuild')")  # noqa: S608  (our own name)


def lift(connection: BaseDatabaseWrapper) -> None:
    """Take all away."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            for name in reversed(_SQLITE):
                cursor.execute(f"DROP {'TABLE' if name == FTS else 'TRIGGER'} IF EXISTS {name}")
        else:
            for name in _POSTGRES:
                cursor.execute(f"DROP INDEX IF EXISTS {name}")


def _has_trigrams(connection: BaseDatabaseWrapper) -> bool:
    """Whether PostgreSQL has pg_trgm, after trying to make it: that wants CREATE on the database."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1 FROM pg_extension WHERE extname = 'pg_trgm'")
        if cursor.fetchone():
            return True
        try:
            with transaction.atomic(using=connection.alias):
                cursor.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
        except DatabaseError:
            return False
    return True


@receiver(post_migrate, dispatch_uid="tooling.search_index")
def lay_again(sender: Any, using: str, **kwargs: Any) -> None:
    """SQLite drops the triggers with a rebuilt table; on PostgreSQL an administrator may have made the extension."""
    if sender.label == "tooling":
        lay(connections[using])


@register(Tags.database)
def search_has_its_index(app_configs: Any, databases: Any = None, **kwargs: Any) -> list[CheckMessage]:
    """tooling.E002, W002: the search misses what was written (SQLite), or reads every row (PostgreSQL)."""
    found: list[CheckMessage] = []
    for alias in databases or ():
        try:
            names = missing(connections[alias])
        except DatabaseError:
            continue  # a database that does not answer is said by whoever needs it
        if names and connections[alias].vendor == "sqlite":
            hint = "Run “python manage.py migrate --skip-checks”, which lays it again."
            message = f"The search in the database “{alias}” is broken: it lacks {', '.join(names)}."
            found.append(Error(message, hint=hint, id="tooling.E002"))
        elif names:
            hint = (
                "Have an administrator of the database run “CREATE EXTENSION pg_trgm” in it (one of PostgreSQL's own "
                "contrib modules), then run “python manage.py migrate”. Until then all is found, but slowly."
            )
            message = f"The database “{alias}” has no trigrams, so a search reads the words of every tool."
            found.append(Warning(message, hint=hint, id="tooling.W002"))
    return found
