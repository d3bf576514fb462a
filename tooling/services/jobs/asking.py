"""Asking for a job, and for its end."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from tooling.models import Job, JobState, Person
from tooling.services.jobs.board import board_of
from tooling.services.jobs.left import interrupt_if_left
from tooling.services.jobs.registry import known


@transaction.atomic
def ask(kind: str, *, by: Person, at: datetime, given: dict[str, Any]) -> Job:
    """Puts a job behind those that wait. The same person asking for the same again gets the one that is still open."""
    if known(kind) is None:
        raise ValueError(f"No kind of job is called {kind!r}.")
    interrupt_if_left(at)
    Person.objects.select_for_update().get(pk=by.pk)  # two taps at once, one after the other
    for job in Job.objects.open().filter(kind=kind, asked_by=by):
        if job.given == given:
            return job
    return Job.objects.create(kind=kind, given=given, asked_by=by, asked_at=at)


def cancel(job: Job, *, at: datetime) -> None:
    """Ends a job that waits, or asks one at work to end. Raises Refused where it is too late."""
    cancelled = {"state": JobState.CANCELLED, "ended_at": at, "words": _("Cancelled before it began.")}
    if Job.objects.filter(pk=job.pk, state=JobState.QUEUED).update(**cancelled):
        return
    job.refresh_from_db()
    board = board_of(job)
    if not job.is_open:
        raise Refused(_("It has ended already."))
    if board.told().is_final:
        raise Refused(_("It is being written and can no longer be cancelled."))
    board.ask_to_cancel()
