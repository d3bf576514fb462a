"""What was told to the lead, until a lead has seen it."""

from django.db import models
from django.utils.translation import gettext_lazy as _

_UNSEEN = models.Q(seen_at=None)


class LeadNote(models.Model):
    """A note that is for the lead: the entry says what, this says who has seen it, and when."""

    entry = models.OneToOneField("Entry", models.PROTECT, related_name="lead_note")
    seen_at = models.DateTimeField(_("seen at"), null=True, blank=True)
    seen_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        verbose_name = _("told to the lead")
        verbose_name_plural = _("told to the lead")
        # Few are unseen, however many there were.
        indexes = [models.Index(fields=["entry"], condition=_UNSEEN, name="lead_note_unseen")]
        constraints = [
            models.CheckConstraint(condition=_UNSEEN | models.Q(seen_by__isnull=False), name="lead_note_seen_by_whom")
        ]

    def __str__(self) -> str:
        return str(self.entry)
