"""How a restored shop takes the place of what is there: all of it at once, or nothing of it."""

import contextlib
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from django.apps import apps
from django.db import DatabaseError, connection, transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.holding import nobody_else
from tooling.services.backup.states import present

_HISTORY = "django_migrations"


def holds_a_shop() -> bool:
    """Whether anything of a shop is in the database. Raises Refused for a database of another program."""
    try:
        state = present()
        if not state.models and connection.vendor == "sqlite" and connection.introspection.table_names():
            raise Refused(_("The database holds tables of another program. Point DATA_DIR or DATABASE_URL elsewhere."))
        return any(model._base_manager.exists() for model in state.models)
    except DatabaseError as broken:
        message = _("The present database cannot be read: %(why)s. Move it away, then restore into an empty place.")
        raise Refused(message % {"why": str(broken).strip()}) from broken


@contextlib.contextmanager
def new_shop() -> Iterator[None]:
    """Inside, the database is empty. At its end what was filled in stands in place of the old, unless it was left
    by an exception: then everything is as it was.
    """
    try:
        with _in_another_file() if connection.vendor == "sqlite" else _in_one_transaction():
            yield
    except DatabaseError as bad:
        message = _("The shop could not be put in its place, and all is as it was: %(why)s.")
        raise Refused(message % {"why": str(bad).strip().rstrip(".")}) from bad


@contextlib.contextmanager
def _in_another_file() -> Iterator[None]:
    database = Path(connection.settings_dict["NAME"]).absolute()
    for left in database.parent.glob(f".{database.name}.*.restored*"):
        left.unlink()  # of a restore that was killed: nobody else is at one now
    draft = database.with_name(f".{database.name}.{secrets.token_hex(4)}.restored")
    try:
        with _standing_in(draft):
            yield
        nobody_else()
        _take_over(draft, database)
    finally:
        for left in draft.parent.glob(f"{draft.name}*"):
            left.unlink()


@contextlib.contextmanager
def _standing_in(file: Path) -> Iterator[None]:
    """Inside, the program works on that file as if it were the shop's."""
    before = connection.settings_dict["NAME"]
    connection.close()
    connection.settings_dict["NAME"] = str(file)
    try:
        yield
    finally:
        connection.close()
        connection.settings_dict["NAME"] = before


def _take_over(draft: Path, database: Path) -> None:
    """Write the new file over the old one in one transaction of SQLite: a power cut leaves the old or the new shop.

    A file that was moved into place would leave the old one's write-ahead log beside the new one.
    """
    try:
        with closing(sqlite3.connect(draft)) as new, closing(sqlite3.connect(database)) as old:
            old.execute("PRAGMA synchronous=FULL")
            new.backup(old)
            found = old.execute("PRAGMA quick_check").fetchone()[0]
            if found != "ok":
                raise sqlite3.DatabaseError(found)
    except sqlite3.Error as bad:
        raise DatabaseError(*bad.args) from bad


@contextlib.contextmanager
def _in_one_transaction() -> Iterator[None]:
    with transaction.atomic():
        _drop_all()
        yield
        connection.check_constraints()
        nobody_else()


def _drop_all() -> None:
    """Take the program's tables away, those of an older or newer state as well; others stay."""
    ours = {model._meta.db_table for model in present().models} | {_HISTORY}
    ours |= {model._meta.db_table for model in apps.get_models(include_auto_created=True)}
    with connection.cursor() as cursor:
        there = sorted(ours & set(connection.introspection.table_names(cursor)))
        if there:
            cursor.execute(f"DROP TABLE {', '.join(map(connection.ops.quote_name, there))}")
