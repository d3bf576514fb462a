"""Append-only below the program: triggers that refuse to change what was written.

They cover entries and seals, on both databases: no UPDATE, no DELETE, no INSERT over an existing row, no TRUNCATE.
They stop a slip and a stray script; whoever owns the database can drop them, which the check below reports.
"""

from typing import Any

from django.core.checks import CheckMessage, Error, Tags, register
from django.db import DatabaseError, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models.signals import post_migrate
from django.dispatch import receiver

# Table: every set of columns that is unique in it
PROTECTED: dict[str, tuple[tuple[str, ...], ...]] = {
    "tooling_entry": (("id",), ("tool_id", "number"), ("token",), ("replaces_id",), ("voids_id",)),
    "tooling_seal": (("id",), ("day",), ("previous",), ("digest",)),
    "tooling_sealline": (("id",), ("seal_id", "tool_id"), ("tool_id", "count")),
}

# One function serves every table on PostgreSQL. Its error is of the class of broken constraints, as SQLite's is.
_POSTGRES_BODY = """
BEGIN
    RAISE EXCEPTION '% is append-only', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END
"""
_POSTGRES_FUNCTION = (
    f"CREATE OR REPLACE FUNCTION tooling_append_only() RETURNS trigger LANGUAGE plpgsql AS $${_POSTGRES_BODY}$$"
)
_POSTGRES_GOOD = """
SELECT tgname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid JOIN pg_proc ON pg_proc.oid = tgfoid
WHERE tgenabled IN ('O', 'A') AND tgqual IS NULL AND prosrc = %s
AND relname = ANY(%s) AND pg_table_is_visible(pg_class.oid)
"""


def expected(vendor: str) -> dict[str, str]:
    """The SQL of every trigger by its name."""
    of_table = _on_sqlite if vendor == "sqlite" else _on_postgres
    return {name: sql for table, unique in PROTECTED.items() for name, sql in of_table(table, unique).items()}


def _on_sqlite(table: str, unique: tuple[tuple[str, ...], ...]) -> dict[str, str]:
    # INSERT OR REPLACE deletes the old row without a delete trigger: only this one sees it.
    # The column of the id is an alias of the rowid, which reads -1 here while it is not yet given.
    # One question a key, each by its index: joined by OR they would read the whole table once SQLite has statistics.
    same = (" AND ".join(f"{column} = NEW.{column}" for column in columns) for columns in unique)
    exists = " OR ".join(f"EXISTS (SELECT 1 FROM {table} WHERE {key})" for key in same)  # noqa: S608  (names above)
    refuse = f"BEGIN SELECT RAISE(ABORT, '{table} is append-only'); END"
    return {
        f"{table}_no_update": f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} {refuse}",
        f"{table}_no_delete": f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} {refuse}",
        f"{table}_no_replace": f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} WHEN {exists} {refuse}",
    }


def _on_postgres(table: str, unique: tuple[tuple[str, ...], ...]) -> dict[str, str]:
    # An INSERT cannot pass over a row here: ON CONFLICT DO UPDATE is an UPDATE to the trigger as well.
    act = "EXECUTE FUNCTION tooling_append_only()"
    return {
        f"{table}_no_update": f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} FOR EACH ROW {act}",
        f"{table}_no_delete": f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} FOR EACH ROW {act}",
        f"{table}_no_truncate": f"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} {act}",
    }


def missing(connection: BaseDatabaseWrapper) -> list[str]:
    """The names of triggers that are absent, switched off or changed. Tables that do not exist want none."""
    with connection.cursor() as cursor:
        tables = set(connection.introspection.table_names(cursor)) & set(PROTECTED)
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name, tbl_name, sql FROM sqlite_master WHERE type = 'trigger'")
            there = {name: sql for name, _table, sql in cursor.fetchall()}
            good = {name for name, sql in expected("sqlite").items() if there.get(name) == sql}
        else:
            cursor.execute(_POSTGRES_GOOD, [_POSTGRES_BODY, sorted(tables)])
            good = {name for (name,) in cursor.fetchall()}
    wanted = {name for name in expected(connection.vendor) if name.rpartition("_no_")[0] in tables}
    return sorted(wanted - good)


def lay(connection: BaseDatabaseWrapper) -> None:
    """Create what is missing; nothing is touched where all is well."""
    names = missing(connection)
    if not names:
        return
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(_POSTGRES_FUNCTION)
        for name in names:
            cursor.execute(_drop(connection, name))
            cursor.execute(expected(connection.vendor)[name])


def lift(connection: BaseDatabaseWrapper) -> None:
    """Take all away. Only a reversed migration and the tests do."""
    with connection.cursor() as cursor:
        for name in expected(connection.vendor):
            cursor.execute(_drop(connection, name))


def _drop(connection: BaseDatabaseWrapper, name: str) -> str:
    on_table = f" ON {name.rpartition('_no_')[0]}" if connection.vendor == "postgresql" else ""
    return f"DROP TRIGGER IF EXISTS {name}{on_table}"


@receiver(post_migrate, dispatch_uid="tooling.triggers")
def lay_again(sender: Any, using: str, **kwargs: Any) -> None:
    """SQLite rebuilds a table to alter it, and the table's triggers silently go with the old one."""
    if sender.label == "tooling":
        lay(connections[using])


@register(Tags.database)
def triggers_are_there(app_configs: Any, databases: Any = None, **kwargs: Any) -> list[CheckMessage]:
    """tooling.E001: entries or seals could be changed unseen."""
    found: list[CheckMessage] = []
    for alias in databases or ():
        try:
            names = missing(connections[alias])
        except DatabaseError:
            continue  # a database that does not answer is said by whoever needs it
        if names:
            found.append(
                Error(
                    f"The history in the database “{alias}” is not protected: it lacks {', '.join(names)}.",
                    hint="Run “python manage.py migrate --skip-checks”, which lays them again, then "
                    "“python manage.py check_history”, which says whether anything was changed meanwhile.",
                    id="tooling.E001",
                )
            )
    return found
