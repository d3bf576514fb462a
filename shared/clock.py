"""The only place that reads the clock."""

import datetime
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_told: ContextVar[datetime.datetime | None] = ContextVar("told", default=None)


def now() -> datetime.datetime:
    """This moment, in UTC."""
    return _told.get() or datetime.datetime.now(datetime.UTC)


@contextmanager
def set_to(moment: datetime.datetime) -> Iterator[None]:
    """Inside, this moment is now, for this thread alone.

    For the demo, whose history is written day by day as its story tells it, for tests and the bench. No page, command
    or import of a living shop turns the clock: when something was recorded would then mean nothing.
    """
    token = _told.set(moment)
    try:
        yield
    finally:
        _told.reset(token)
