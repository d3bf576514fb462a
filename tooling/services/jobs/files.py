"""The folders of jobs, under DATA_DIR/jobs: what came of them stays for a week."""

import shutil
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings

from tooling.models import Job

KEPT_DAYS = 7


def jobs_folder() -> Path:
    """Where all of them are."""
    return Path(settings.DATA_DIR) / "jobs"


def folder_of(job: Job) -> Path:
    """One job's own; it need not be there."""
    return jobs_folder() / str(job.pk)


def file_of(job: Job) -> Path | None:
    """The file that came of a job; None where there is none, or where it was swept."""
    path = folder_of(job) / job.file if job.file else None
    return path if path is not None and path.is_file() else None


def clear(job: Job) -> None:
    """Removes what may lie where a job's folder will be: after a restore, numbers are given out again."""
    shutil.rmtree(folder_of(job), ignore_errors=True)


def sweep(at: datetime) -> int:
    """Removes the folders of jobs that ended a week ago, and those that no job has; returns how many."""
    folders = [one for one in jobs_folder().glob("*") if one.is_dir() and one.name.isdigit()]
    old = at - timedelta(days=KEPT_DAYS)
    # asked after the folders were listed: a job is there before its folder is
    kept = {str(pk) for pk in Job.objects.exclude(ended_at__lt=old).values_list("pk", flat=True)}
    swept = [one for one in folders if one.name not in kept]
    for folder in swept:
        shutil.rmtree(folder, ignore_errors=True)
    return len(swept)
