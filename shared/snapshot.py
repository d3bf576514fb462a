"""Several questions to the database that see one and the same state of it, while people go on working."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import wraps
from typing import Any

from django.db import connection, transaction
from django.http import HttpRequest, HttpResponse

from shared import clock


@contextmanager
def one_moment() -> Iterator[datetime]:
    """Inside, every read sees the shop as it was at one moment, which is given: later than all that is seen.

    It writes nothing and locks nobody out. Where a transaction is open already, that one decides what is seen.
    """
    if connection.in_atomic_block:
        yield clock.now()
    elif connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            cursor.execute("SELECT 1")  # the first read decides what is seen
            yield clock.now()
    else:
        with connection.cursor() as cursor:
            cursor.execute("BEGIN")  # one to read in; Django's own would ask for the right to write
            try:
                cursor.execute("SELECT 1 FROM sqlite_master")
                yield clock.now()
            finally:
                cursor.execute("ROLLBACK")


def as_of_one_moment(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """A view that only reads, answered from one state of the shop: no deed comes in between two of its questions."""

    @wraps(view)
    def reading(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        with one_moment():
            return view(request, *args, **kwargs)

    return reading
