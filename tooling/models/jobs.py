"""Jobs: work that takes longer than a page may, asked for on a screen and done by `manage.py work`."""

import enum

from django.db import models
from django.utils.translation import gettext_lazy as _


class JobState(models.TextChoices):
    """Where a job stands."""

    QUEUED = "queued", _("waiting for its turn")
    RUNNING = "running", _("at work")
    DONE = "done", _("done")
    FAILED = "failed", _("failed")
    CANCELLED = "cancelled", _("cancelled")
    INTERRUPTED = "interrupted", _("interrupted")

    OPEN = enum.nonmember(frozenset({"queued", "running"}))


class JobQuerySet(models.QuerySet["Job"]):
    def open(self) -> "JobQuerySet":
        """Those that have not ended."""
        return self.filter(state__in=JobState.OPEN)

    def waiting(self) -> "JobQuerySet":
        """Those whose turn is still to come, the first that was asked for first."""
        return self.filter(state=JobState.QUEUED).order_by("pk")


class Job(models.Model):
    """One piece of long work: who asked for it, how it ended, and the file that came of it."""

    kind = models.CharField(_("kind"), max_length=40)
    given = models.JSONField(_("what it was given"), default=dict, blank=True)
    asked_by = models.ForeignKey("Person", models.PROTECT, related_name="+", verbose_name=_("asked for by"))
    asked_at = models.DateTimeField(_("asked for at"))
    started_at = models.DateTimeField(_("started at"), null=True, blank=True)
    ended_at = models.DateTimeField(_("ended at"), null=True, blank=True)
    state = models.CharField(_("state"), max_length=12, choices=JobState.choices, default=JobState.QUEUED)
    words = models.TextField(_("how it ended"), blank=True, default="")
    file = models.CharField(_("file that came of it"), max_length=200, blank=True, default="")
    # Written by a connection of its own where the database allows that; on SQLite both are files instead.
    told = models.JSONField(_("how far it is"), default=dict, blank=True)
    cancel_asked = models.BooleanField(_("somebody wants it cancelled"), default=False)

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        verbose_name = _("job")
        verbose_name_plural = _("jobs")
        indexes = [models.Index(fields=["state"], name="job_state")]
        constraints = [
            models.CheckConstraint(condition=models.Q(state__in=JobState.values), name="job_state_known"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"

    @property
    def is_open(self) -> bool:
        """Whether it has not ended."""
        return self.state in JobState.OPEN
