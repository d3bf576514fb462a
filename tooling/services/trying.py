"""Deeds that are put together and not written: a page shows what they would do before they are done."""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar

from django.db import transaction

from tooling.models import Entry

_entries: ContextVar[list[Entry] | None] = ContextVar("entries", default=None)


@contextmanager
def trying() -> Iterator[list[Entry]]:
    """Inside, every deed is only added to this list. Nothing is locked and nothing is written."""
    tried: list[Entry] = []
    before = _entries.set(tried)
    try:
        yield tried
    finally:
        _entries.reset(before)


def tried() -> list[Entry] | None:
    """Where deeds are added while they are only tried; None where they are meant."""
    return _entries.get()


def together() -> AbstractContextManager[object]:
    """All of several deeds or none. To try them takes no transaction: on SQLite that would keep others waiting."""
    return transaction.atomic() if tried() is None else _nothing()


@contextmanager
def _nothing() -> Iterator[None]:
    yield
