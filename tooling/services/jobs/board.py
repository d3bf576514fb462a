"""Where a job at work and its page meet: how far it is, one way; the wish to cancel it, the other.

On SQLite both are files: a row could not be written while the job itself holds the lock of the database. On PostgreSQL
they are in the job's row, through a connection of its own, so that they are seen before the job's transaction ends.
"""

import contextlib
import json
from dataclasses import asdict, dataclass
from typing import Any

from django.db import connection, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Job
from tooling.services.jobs.files import folder_of

_TOLD, _CANCEL = "told.json", "cancel"


@dataclass(frozen=True, slots=True)
class Told:
    """How far a job is. `is_final`: it is being written, and cannot be cancelled any more."""

    done: int = 0
    of: int = 0
    words: str = ""
    is_final: bool = False


class Board:
    """What is told of one job, on SQLite: two files in its folder."""

    def __init__(self, job: Job) -> None:
        """That of a job whose folder need not be there yet."""
        self._folder = folder_of(job)

    def tell(self, told: Told) -> None:
        """Puts up how far it is."""
        self._folder.mkdir(parents=True, exist_ok=True)
        draft = self._folder / f".{_TOLD}"
        draft.write_text(json.dumps(asdict(told)), encoding="utf-8")
        draft.replace(self._folder / _TOLD)

    def told(self) -> Told:
        """How far it is."""
        try:
            return Told(**json.loads((self._folder / _TOLD).read_text(encoding="utf-8")))
        except (OSError, ValueError, TypeError):
            return Told()

    def ask_to_cancel(self) -> None:
        """Puts up that somebody wants it to end."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            (self._folder / _CANCEL).touch()
        except OSError as bad:
            message = _("It cannot be told to end: %(folder)s cannot be written to (%(why)s).")
            raise Refused(message % {"folder": self._folder, "why": bad.strerror}) from bad

    def is_cancel_asked(self) -> bool:
        """Whether somebody does."""
        return (self._folder / _CANCEL).exists()

    def close(self) -> None:
        """Lets go of what was opened."""


class RowBoard(Board):
    """What is told of one job, on PostgreSQL: columns of its row, read and written beside any transaction."""

    def __init__(self, job: Job) -> None:
        """That of a job. The connection is made when something is first told."""
        super().__init__(job)
        self._pk = job.pk
        self._own: BaseDatabaseWrapper | None = None

    def tell(self, told: Told) -> None:
        """Puts up how far it is."""
        self._row("UPDATE tooling_job SET told = %s::jsonb WHERE id = %s", [json.dumps(asdict(told)), self._pk])

    def told(self) -> Told:
        """How far it is."""
        found = Job.objects.filter(pk=self._pk).values_list("told", flat=True).first()
        try:
            return Told(**(found or {}))
        except TypeError:
            return Told()

    def ask_to_cancel(self) -> None:
        """Puts up that somebody wants it to end."""
        Job.objects.filter(pk=self._pk).update(cancel_asked=True)

    def is_cancel_asked(self) -> bool:
        """Whether somebody does."""
        found = self._row("SELECT cancel_asked FROM tooling_job WHERE id = %s", [self._pk])
        return bool(found and found[0])

    def close(self) -> None:
        """Ends its connection."""
        if self._own is not None:
            with contextlib.suppress(Exception):
                self._own.close()
            self._own = None

    def _row(self, sql: str, values: list[Any]) -> Any:
        if self._own is None:
            self._own = connections.create_connection(connection.alias)
        with self._own.cursor() as cursor:
            cursor.execute(sql, values)
            return cursor.fetchone() if cursor.description else None


def board_of(job: Job) -> Board:
    """Where this job and its page meet."""
    return RowBoard(job) if connection.vendor == "postgresql" else Board(job)
