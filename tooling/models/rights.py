"""Who may accept a tool, free one, or approve that one is retired: a right of a person, from a day to a day."""

from datetime import date

from django.db import models
from django.utils.translation import gettext_lazy as _


class May(models.TextChoices):
    ACCEPT = "accept", _("accept a tool")
    FREE = "free", _("free a held tool")
    APPROVE = "approve", _("approve that a tool is retired")


class RightQuerySet(models.QuerySet["Right"]):
    def on(self, day: date) -> "RightQuerySet":
        """Those that hold on a day of the shop; the last day is one of them."""
        return self.filter(models.Q(until=None) | models.Q(until__gte=day), since__lte=day)


class Right(models.Model):
    """One right, as somebody gave it. It is ended, never deleted: "might they, that day?" has an answer for ever."""

    person = models.ForeignKey("Person", models.PROTECT, related_name="rights")
    may = models.CharField(_("may"), max_length=10, choices=May.choices)
    since = models.DateField(_("from"))
    until = models.DateField(_("to"), null=True, blank=True)
    given_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    given_at = models.DateTimeField(_("given"))
    ended_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    ended_at = models.DateTimeField(_("end said"), null=True, blank=True)
    # Each end that was said before another one, and when that was: what was known of it at any time.
    earlier = models.TextField(_("ends said before"), blank=True, default="")

    objects = RightQuerySet.as_manager()

    class Meta:
        ordering = ["person", "may", "since", "id"]
        verbose_name = _("right")
        verbose_name_plural = _("rights")
        constraints = [
            models.CheckConstraint(condition=models.Q(may__in=May.values), name="right_may"),
            models.CheckConstraint(
                condition=models.Q(until=None) | models.Q(until__gte=models.F("since")), name="right_ends_after"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.may}"
