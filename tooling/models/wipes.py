"""That a coat was wiped. It quiets the clock of the coat, and bears on no release: so it is no entry."""

from django.db import models
from django.utils.translation import gettext_lazy as _

_STANDS = models.Q(taken_back_at=None)


class WipeQuerySet(models.QuerySet["Wipe"]):
    def standing(self) -> "WipeQuerySet":
        """Those that nobody took back."""
        return self.filter(_STANDS)


class Wipe(models.Model):
    """One coat, wiped by somebody at a moment. It stands once a coat, until it is taken back."""

    coat = models.ForeignKey("Entry", models.PROTECT, related_name="wipes")
    at = models.DateTimeField(_("when"))
    by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    recorded_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    token = models.UUIDField(null=True, blank=True, unique=True)
    taken_back_at = models.DateTimeField(_("taken back at"), null=True, blank=True)

    objects = WipeQuerySet.as_manager()

    class Meta:
        verbose_name = _("wipe")
        verbose_name_plural = _("wipes")
        constraints = [models.UniqueConstraint(fields=["coat"], condition=_STANDS, name="wipe_once_a_coat")]

    def __str__(self) -> str:
        return f"{self.coat} wiped"
