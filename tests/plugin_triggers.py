"""Lets transactional tests empty the database, which the append-only triggers refuse. A pytest plugin."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import pytest
from django.db import connections, transaction
from django.test import TransactionTestCase

# What migrations wrote and no test changes: left alone, it need not be written again after each test.
OF_MIGRATIONS = {"django_migrations", "django_content_type", "auth_permission"}
MANY = 1000


@contextmanager
def lifted(alias: str = "default") -> Iterator[None]:
    """Without triggers inside, with them afterwards: what somebody with the database's password can do."""
    from tooling.models import triggers  # a plugin is loaded before the apps are

    connection = connections[alias]
    if connection.in_atomic_block:
        # PostgreSQL drops no trigger while checks of foreign keys are still to come
        connection.check_constraints()
    triggers.lift(connection)
    try:
        yield
    finally:
        triggers.lay(connection)


@pytest.fixture(scope="session", autouse=True)
def flush_past_triggers() -> Iterator[None]:
    """A transactional test, and one with a live server, empties the tables when it ends: lift the triggers for that.

    Django's own way cuts off every table there is, full or not, and then does what follows upon a migration, which is
    quicker only for thousands of rows.
    """
    flush = TransactionTestCase._fixture_teardown

    def emptied(self):
        from tooling.models import Entry

        with ExitStack() as stack:
            names = self._databases_names(include_mirrors=False)
            for alias in names:
                stack.enter_context(lifted(alias))
            if any(Entry.objects.using(alias).count() > MANY for alias in names):
                return flush(self)
            for alias in names:
                empty(alias)

    TransactionTestCase._fixture_teardown = emptied
    yield
    TransactionTestCase._fixture_teardown = flush


def empty(alias: str) -> None:
    """Every row goes; in one transaction, at whose end foreign keys are looked at."""
    connection = connections[alias]
    tables = connection.introspection.django_table_names(only_existing=True, include_views=False)
    with transaction.atomic(using=alias), connection.cursor() as cursor:
        for table in sorted({*tables} - OF_MIGRATIONS):
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(table)}")
