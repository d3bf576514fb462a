"""Jobs whose worker went away: they say so."""

from datetime import datetime

from django.utils.translation import gettext as _

from tooling.models import Job, JobState
from tooling.services.jobs import turn


def words() -> str:
    """What is said of one."""
    return _("The program ended while this ran. Ask for it again: what it had written is there whole or not at all.")


def interrupt_left(at: datetime) -> None:
    """Says of all that are at work that they were interrupted. Only for who has just taken the turn."""
    _interrupt(at)


def interrupt_if_left(at: datetime) -> None:
    """The same, where nobody has the turn: whatever began before that was seen has lost its worker."""
    if Job.objects.filter(state=JobState.RUNNING).exists() and not turn.is_taken():
        _interrupt(at)


def _interrupt(at: datetime) -> None:
    left = Job.objects.filter(state=JobState.RUNNING, started_at__lte=at)
    left.update(state=JobState.INTERRUPTED, ended_at=at, words=words())
