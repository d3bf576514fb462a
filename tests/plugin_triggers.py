"""Lets transactional tests empty the database, which the append-only triggers refuse. A pytest plugin."""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import pytest
from django.db import connections
from django.test import TransactionTestCase


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
    """A transactional test, and one with a live server, flushes when it ends: lift the triggers for just that."""
    flush = TransactionTestCase._fixture_teardown

    def flush_lifted(self):
        with ExitStack() as stack:
            for alias in self._databases_names(include_mirrors=False):
                stack.enter_context(lifted(alias))
            flush(self)

    TransactionTestCase._fixture_teardown = flush_lifted
    yield
    TransactionTestCase._fixture_teardown = flush
