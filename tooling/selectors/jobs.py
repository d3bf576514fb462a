"""What the pages of jobs show."""

from dataclasses import dataclass
from typing import Any

from tooling.models import Job, JobState
from tooling.services.jobs import turn
from tooling.services.jobs.board import Told, board_of
from tooling.services.jobs.files import file_of
from tooling.services.jobs.registry import known

LISTED = 50


@dataclass(frozen=True, slots=True)
class JobPage:
    """A job as its page shows it: `is_lost` where it is said to be at work and nobody is."""

    job: Job
    title: Any
    told: Told
    waits_for: int
    has_worker: bool
    is_lost: bool
    has_file: bool
    goes_on: str

    @property
    def is_open(self) -> bool:
        """Whether the page has to look again."""
        return self.job.is_open and not self.is_lost

    @property
    def may_cancel(self) -> bool:
        """Whether it can still be ended."""
        return self.is_open and not self.told.is_final


def page(job: Job) -> JobPage:
    """One job, as it stands now."""
    kind, has_worker = known(job.kind), not job.is_open or turn.is_taken()
    is_running = job.state == JobState.RUNNING
    return JobPage(
        job=job,
        title=kind.title if kind else job.kind,
        told=board_of(job).told() if is_running else Told(),
        waits_for=Job.objects.open().filter(pk__lt=job.pk).count() if job.state == JobState.QUEUED else 0,
        has_worker=has_worker,
        is_lost=is_running and not has_worker,
        has_file=file_of(job) is not None,
        goes_on=kind.goes_on({**job.given, "job": job.pk}) if kind and kind.goes_on else "",
    )


def listed() -> list[tuple[Job, Any]]:
    """The last jobs, each with what it is called."""
    jobs = Job.objects.select_related("asked_by")[:LISTED]
    return [(job, kind.title if (kind := known(job.kind)) else job.kind) for job in jobs]


def at_work() -> str:
    """What the worker is at, in words; "" where it waits."""
    job = Job.objects.filter(state=JobState.RUNNING).first()
    kind = known(job.kind) if job is not None else None
    return str(kind.title) if kind else ""
