"""Doing the jobs, one after the other, until told to end."""

import errno
import logging
import threading
from datetime import datetime, timedelta

from django.db import close_old_connections
from django.utils.translation import gettext as _

from shared import clock
from shared.errors import Refused
from tooling.models import Job, JobState
from tooling.services.jobs import left, turn
from tooling.services.jobs.board import board_of
from tooling.services.jobs.files import clear, folder_of, sweep
from tooling.services.jobs.progress import Cancelled, Interrupted, Outcome, Progress
from tooling.services.jobs.registry import known

_log = logging.getLogger(__name__)
_POLL = 1.0  # seconds between two looks for work
_SWEEP = timedelta(hours=1)


def work(ending: threading.Event, *, once: bool = False) -> int:
    """Does jobs until `ending` is set; with `once`, those that wait now. Returns how many were done.

    While another worker has the turn this one stands by, and it begins anew where it lost its own.
    """
    count = 0
    while not ending.is_set():
        with turn.taken() as is_kept:
            if is_kept is not None:
                count += _work(ending, once, is_kept)
        if is_kept is None and once:
            raise Refused(_("Another worker is at the jobs already."))
        if once:
            break
        ending.wait(_POLL)
    return count


def _work(ending: threading.Event, once: bool, is_kept: turn.IsKept) -> int:
    left.interrupt_left(clock.now())
    count, swept_at = 0, None
    while not ending.is_set() and is_kept():
        job = Job.objects.waiting().first()
        if job is not None:
            _do(job, ending, is_kept)
            count += 1
            continue
        now = clock.now()
        if swept_at is None or now - swept_at > _SWEEP:
            sweep(now)
            swept_at = now
        if once:
            break
        close_old_connections()
        ending.wait(_POLL)
    return count


def _do(job: Job, ending: threading.Event, is_kept: turn.IsKept) -> None:
    clear(job)
    taken = {"state": JobState.RUNNING, "started_at": clock.now()}
    if not Job.objects.filter(pk=job.pk, state=JobState.QUEUED).update(**taken):
        return  # cancelled a moment ago
    board = board_of(job)
    try:
        state, outcome = _outcome(job, Progress(board, folder_of(job), ending, is_kept))
    finally:
        board.close()
    file = outcome.file.relative_to(folder_of(job)).as_posix() if outcome.file else ""
    _end(job, state, outcome.words, file, clock.now())


def _end(job: Job, state: JobState, words: str, file: str, at: datetime) -> None:
    # Another worker that took the turn over has said already what became of it.
    running = Job.objects.filter(pk=job.pk, state=JobState.RUNNING)
    running.update(state=state, words=words, file=file, ended_at=at)


def _outcome(job: Job, progress: Progress) -> tuple[JobState, Outcome]:
    kind = known(job.kind)
    if kind is None:
        return JobState.FAILED, Outcome(_("This version of the program does not know this kind of work."))
    try:
        progress.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        return JobState.DONE, kind.function(job.given, progress)
    except Cancelled:
        return JobState.CANCELLED, Outcome(_("Cancelled. Nothing was written."))
    except Interrupted:
        return JobState.INTERRUPTED, Outcome(left.words())
    except Refused as refused:
        return JobState.FAILED, Outcome(refused.message)
    except OSError as bad:
        _log.exception("The job %s failed.", job)
        if bad.errno == errno.ENOSPC:
            return JobState.FAILED, Outcome(_("The disk is full. Make room and ask for it again."))
        words = _("A file could not be read or written: %(why)s.") % {"why": bad.strerror or bad}
        return JobState.FAILED, Outcome(words)
    except Exception:
        _log.exception("The job %s failed.", job)
        words = _("The program failed here. Nothing more can be said than what stands in the server’s output.")
        return JobState.FAILED, Outcome(words)
